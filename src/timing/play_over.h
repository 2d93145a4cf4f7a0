#pragma once

#include <vector>

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// The play-over as a promise of verse 1.
//
// tempo_difference: the play-over's mean pulse against verse 1's over its first phrase (or more of
// it, until five struck beats stand in lines), positive = the play-over was faster.
// Worked number: 80 a minute against 76: +5.26 %.
//
// slowing: at its end, see timing/slowing.h; unknown where a broadening is planned.
//
// Loudness needs a description of the organ: unknown here. Mean velocities are given only where
// the keyboard sends more than one.
[[nodiscard]] Measured<PlayOverMeasures> measure_play_over(const Question& question,
                                                           const std::vector<FittedPass>& passes);

}  // namespace loftbeat::timing
