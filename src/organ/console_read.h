#pragma once

// Private to organ/: one MIDI message against one mapping.

#include <optional>

#include "organ/instrument.h"
#include "take/take.h"

namespace loftbeat::organ {

struct ConsoleMessage {
  const take::Event& event;
  int nrpn = -1;  // the parameter whose value this message enters; -1: none
};

// 1 if the message switches the control on, 0 if off, nothing if it does not concern it.
[[nodiscard]] std::optional<double> heard(const MidiMapping& mapping,
                                          const ConsoleMessage& message);

}  // namespace loftbeat::organ
