#pragma once

#include <vector>

#include "timing/pulse.h"

namespace loftbeat::timing {

// The places on a pass's way where time may be added by intent, sorted by place, one a place: a
// held note outranks the phrase end at the same place. Interruptions are found later.
[[nodiscard]] std::vector<Cut> planned_cuts(const PulseQuestion& question);

// Places strictly inside a lengthened note, where beats follow no pulse.
struct HeldStretch {
  double from = 0;  // onset of the held note
  double until = 0;
};
[[nodiscard]] std::vector<HeldStretch> held_stretches(const PulseQuestion& question);

}  // namespace loftbeat::timing
