#pragma once

#include <vector>

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// What became of the time that a pass added.
struct AddedTime {
  std::vector<Breath> breaths;
  std::vector<Hesitation> hesitations;
  std::vector<FermataPlayed> fermatas;
  std::vector<double> taken_out_s;  // for each of Pulse::cuts: what drift does not count
};

// Tells breaths from hesitations, over all passes at once since a breath is known by being alike.
//
// Breath: extra time at a phrase end of at most half a beat that differs from the median of the
// other verses there by no more than the tolerance (the plan's hesitation_beats, or twice the
// standard uncertainty if that is more). With one verse only, half a beat alone decides. A planned
// hold counts with what exceeds its plan. Extra time within the tolerance is never a hesitation.
// Hesitation: any other interval between struck beats that exceeds the pulse by more than the
// tolerance; after an upbeat bar, which may be gathered, by more than half a beat. A broadening
// that is planned may use up to its stated slowest beat. Corrections and restarts are told as such
// and are no hesitations. Where the score's phrases are unknown, an excess of at most half a beat
// that most verses have in the same place is a breath too.
// Worked number: tolerance 0.25; three verses with 0.3, 0.35, 0.3 beats at a line's end: breaths.
// With 0.3, 0.9, 0.3 the second is a hesitation of 0.6.
[[nodiscard]] std::vector<AddedTime> tell_breaths(const Question& question,
                                                  const std::vector<FittedPass>& passes);

}  // namespace loftbeat::timing
