#pragma once

#include <string>

#include "advise/plan_measures.h"

namespace loftbeat::report {

// The measures of a plan as one HTML page to look at and print: no script, nothing fetched, every
// drawing told in words and as a table too.
[[nodiscard]] std::string format_measures_page(const advise::PlanMeasures& measures);

}  // namespace loftbeat::report
