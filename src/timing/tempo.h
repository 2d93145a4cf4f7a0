#pragma once

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// Speed and evenness of one pass.
//
// tempo: 60 over the pulse's mean period (Theil-Sen over all struck beats, slopes within lines).
// Worked number: beats every 0.75 s -> 80 a minute; set to 72: offset 100 * (80 / 72 - 1) = 11.1 %.
//
// trend: the same slope over the last third of the way against the first, a planned broadening
// and the upbeat left out; positive = quicker. Worked number: 0.80 s a beat in the first third,
// 0.84 s in the last: 100 * (0.80 / 0.84 - 1) = -4.76 %.
//
// steadiness: standard deviation over mean, in percent, of the intervals between neighbouring
// struck beats of one line (n - 1 in the denominator), each divided by its written length and by
// the local pulse. Intervals that hold a hesitation or a breath are told as such and left out.
// Worked number: intervals 0.98, 1.02, 0.98, 1.02 of the pulse: 0.0231 / 1 -> 2.31 %.
//
// Uncertainties are standard ones: of the slope for tempo and trend, and
// steadiness / sqrt(2 (n - 1)) for the steadiness of n intervals.
struct PassSpeed {
  Measured<double> tempo_bpm;
  Measured<double> tempo_uncertainty_percent;
  Measured<double> tempo_offset_percent;
  Measured<double> trend_percent;
  Measured<double> trend_uncertainty_percent;
  Measured<double> steadiness_percent;
  Measured<double> steadiness_uncertainty_percent;
};

// `set_bpm` is 0 if no tempo is set.
[[nodiscard]] PassSpeed pass_speed(const FittedPass& pass, double set_bpm);

// Slope over the used beats with from <= x <= to; nothing if there is no pair in one line.
[[nodiscard]] std::optional<Slope> slope_between(const Pulse& pulse, double from, double to);

}  // namespace loftbeat::timing
