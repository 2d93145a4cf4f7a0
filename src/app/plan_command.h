#pragma once

#include <string>

namespace loftbeat::app {

// `loftbeat plan`, understood: a plan (*.plan.toml), or a service (*.service.toml) whose plans are
// checked one after the other.
struct PlanOrder {
  std::string path;
  std::string organ_path;   // empty: the plan's
  std::string church_path;  // empty: the plan's
  int people = -1;          // -1: the plan's, else as the church expects
};

// Checks what is asked for and tells it on standard output; returns the exit code.
int run_plan(const PlanOrder& order);

}  // namespace loftbeat::app
