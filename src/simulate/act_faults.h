#pragma once

#include <optional>

#include "simulate/places.h"
#include "simulate/script.h"

namespace loftbeat::simulate {

// Makes the fault part of the act. Returns the place that it got (kAnywhere for faults of a whole
// pass or of the join after it), or nothing where the fault does not concern what happens in or
// after one act. A place is chosen only if the fault names none.
[[nodiscard]] std::optional<Tick> apply_fault(const Piece& piece, const Fault& fault, Act& act,
                                              Random& random);

// An onset before which a player may break off: never the span's first.
[[nodiscard]] Tick place_for_break(const Piece& piece, TickSpan span, Random& random);

}  // namespace loftbeat::simulate
