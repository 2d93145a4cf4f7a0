#pragma once

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// Feet against hands, and left hand against right: over all struck onsets where both play, the
// median onset of the one minus the median onset of the other; then median, spread (half the
// distance of the quartiles) and count. Positive = feet (or left hand) later.
// Worked number: hands at 1.000, 1.004, 1.010 s, pedal at 1.045 s: lag 41 ms there.
//
// Feet are told by the pedal channels of the take; where there are none, by the score's lowest
// voice if it has three voices or more and the pass was not played without pedal. The left hand
// is what is written on any staff but the topmost, the feet's notes left out.
struct Lags {
  Measured<LagMs> pedal;
  FeetSource feet = FeetSource::none;
  Measured<LagMs> left_hand;
};
[[nodiscard]] Lags measure_lags(const Question& question, int pass);

// Standard uncertainty of the median lag: 1.2533 times the standard deviation (quartile distance
// over 1.349) over the root of the count. Worked number: spread 20 ms, 25 chords: 7.4 ms.
[[nodiscard]] double lag_uncertainty_ms(const LagMs& lag);

// Fewer chords than this tell nothing.
inline constexpr int kLeastChordsForLag = 6;

}  // namespace loftbeat::timing
