#pragma once

#include "organ/instrument.h"

namespace loftbeat::organ {

// A swell box as a level and a low-pass of second order (Butterworth). With the shutters at
// `position` (0 shut, 1 open; clamped):
//   level    closed_db * (1 - position)
//   cut-off  closed_hz / (1 - position), so that the open box filters nothing
// A model (common practice, no source): boxes differ, and the file can say otherwise.
[[nodiscard]] double box_level_db(const SwellBox& box, double position);
// Infinity when open.
[[nodiscard]] double box_cutoff_hz(const SwellBox& box, double position);

// Both together at one frequency, dB. Worked number: the default box shut, at 1500 Hz:
// -12 - 3.01 = -15.01 dB; half open at 1500 Hz: -6 - 0.26 = -6.26 dB.
[[nodiscard]] double box_gain_db(const SwellBox& box, double position, double hz);

}  // namespace loftbeat::organ
