#pragma once

#include <string>

#include "advise/plan_measures.h"

namespace loftbeat::report {

// The drawings of the measures' page, each a piece of HTML for wide and for narrow screens.

// The passes one under the other: sharpness, and loudness with what is left of it over the singing.
[[nodiscard]] std::string passes_picture(const advise::PlanMeasures& measures);

// One bar for each octave, from what is left over the singing up to what was there in the empty
// church. All passes share one scale, `top_sone`. Requires a pass that is not silent; `number`
// makes ids unique.
struct PictureOrder {
  const advise::PassMeasure& pass;
  std::size_t number = 0;
  double top_sone = 1;
};
[[nodiscard]] std::string octave_picture(const PictureOrder& order);

// Lead, support and exposure as the church fills.
[[nodiscard]] std::string people_picture(const PictureOrder& order);

// The highest bar of all passes, and the highest point of their lines.
[[nodiscard]] double top_of_octaves(const advise::PlanMeasures& measures);
[[nodiscard]] double top_of_people(const advise::PlanMeasures& measures);

}  // namespace loftbeat::report
