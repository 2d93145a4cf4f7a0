#pragma once

#include <string>

#include "advise/plan_measures.h"
#include "report/table.h"

namespace loftbeat::report {

// The measures of a plan for the terminal. UTF-8; no line wider than the terminal (unless one word
// is). Nothing from a file reaches the terminal unclean.
[[nodiscard]] std::string measure_text(const advise::PlanMeasures& measures,
                                       const TerminalStyle& style);

}  // namespace loftbeat::report
