#pragma once

#include "app/plan_command.h"

namespace loftbeat::app {

// `loftbeat plan PLAN --suggest`: tells on standard output what to draw, and writes the plan with
// it where that is asked for; returns the exit code. Never writes over a file that is there.
int run_suggest(const PlanOrder& order);

}  // namespace loftbeat::app
