#pragma once

#include <vector>

#include "simulate/piece.h"
#include "simulate/random.h"

namespace loftbeat::simulate {

// Score onsets, each once, in order.
[[nodiscard]] std::vector<Tick> onset_ticks(const music::Score& score);

// The first onset after `tick`, or `end` if none comes before it.
[[nodiscard]] Tick next_onset(const std::vector<Tick>& onsets, Tick tick, Tick end);

// A struck beat inside `span` where nothing else excuses lost time: no phrase begins or ends there,
// two beats after the span's begin and four before its end at least. The middle of the span if
// there is no such beat.
[[nodiscard]] Tick quiet_beat(const Piece& piece, TickSpan span, Random& random);

}  // namespace loftbeat::simulate
