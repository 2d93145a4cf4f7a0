#pragma once

#include <string>

#include "advise/plan_measures.h"

namespace loftbeat::report {

// Every figure of the measures as JSON, one object; loftbeat-measures.schema.json describes it.
// What is not known is null, its reason in "unknown" of the same object.
[[nodiscard]] std::string format_measures_json(const advise::PlanMeasures& measures);

}  // namespace loftbeat::report
