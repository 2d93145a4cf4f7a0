#pragma once

#include <string>
#include <vector>

#include "advise/plan_measures.h"
#include "report/table.h"

namespace loftbeat::report {

// The measures of a plan's registrations as tables and sentences, for terminal and page alike.

// "play-over", "verse 2", "interlude", "Amen".
[[nodiscard]] std::string measured_pass_name(const advise::PassMeasure& pass);

// "Great Open Diapason 8, Great Principal 4; Swell to Great; Swell box 0.8 open". Clean.
[[nodiscard]] std::string drawn_words(const organ::Organ& organ, const organ::Registration& drawn);

// Every pass: level, loudness, sharpness, empty and full; lead, support, exposure over the singing.
[[nodiscard]] Table measured_passes_table(const advise::PlanMeasures& measures);
// The same passes as they go on in time: percentiles of tenths of a second, median sharpness.
[[nodiscard]] Table over_time_table(const advise::PlanMeasures& measures);
// Reverberation in each octave, empty and full.
[[nodiscard]] Table reverberation_table(const advise::PlanMeasures& measures);
// One pass, octave by octave: what absorption and masking take, what is left over the singing, what
// the upper work gives of it. Requires a pass that is not silent; so do all that follow.
[[nodiscard]] Table octave_table(const advise::PassMeasure& pass);
// One pass: lead, support and exposure for 6 to 300 people.
[[nodiscard]] Table people_table(const advise::PassMeasure& pass);
// One pass: the single stops that change sharpness most, up to `most` on each side of the console.
[[nodiscard]] Table stop_table(const advise::PlanMeasures& measures,
                               const advise::PassMeasure& pass, std::size_t most);

// "Verse 2: of 26.1 sone in the empty church 5.2 are taken by absorption, 12.0 covered by the
// singing; 8.9 are left." Any pass.
[[nodiscard]] std::string loss_words(const advise::PassMeasure& pass);
// What the upper work gives back, in words.
[[nodiscard]] std::string upper_work_words(const advise::PlanMeasures& measures,
                                           const advise::PassMeasure& pass);
// How little (or much) an exchange of one 8' stop for another does: flues, strings, reeds apart.
[[nodiscard]] std::vector<std::string> swap_lines(const advise::PlanMeasures& measures,
                                                  const advise::PassMeasure& pass);
// How far figures rest on bands that published tables lack.
[[nodiscard]] std::string extrapolation_words(const advise::PassMeasure& pass);

}  // namespace loftbeat::report
