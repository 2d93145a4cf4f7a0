#pragma once

#include "advise/planner.h"
#include "app/checked_plan.h"

namespace loftbeat::app {

// Whether anything can be suggested: without organ, church and people nothing can be measured.
// Errors say what is missing and where to name it.
[[nodiscard]] Status check_ground(const CheckedFile& checked);

// Registrations for all passes, leaning three ways. Requires check_ground. Errors: stops to hold or
// to leave that the organ does not have; a stop whose rank is in no recipe. Some tenths of a second
// for a large organ.
[[nodiscard]] Result<advise::Suggestions> suggestions_for(const CheckedFile& checked);

}  // namespace loftbeat::app
