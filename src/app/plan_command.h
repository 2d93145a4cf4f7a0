#pragma once

#include <string>

namespace loftbeat::app {

// `loftbeat plan`, understood: a plan (*.plan.toml), or a service (*.service.toml) whose plans are
// checked one after the other.
struct PlanOrder {
  std::string path;
  std::string organ_path;   // empty: the plan's
  std::string stop_list;    // the organ in one line, in place of a file; empty: none
  std::string church_path;  // empty: the plan's
  std::string player_path;  // whose movement times; empty: the tables'
  int people = -1;          // -1: the plan's, else as the church expects
  bool suggest = false;     // suggest registrations instead of checking the plan's own
  std::string to_path;      // with `suggest`: where to write the plan with them; empty: nowhere
  int choice = 1;           // which suggestion is written, from 1
};

// Checks what is asked for and tells it on standard output; returns the exit code.
int run_plan(const PlanOrder& order);

}  // namespace loftbeat::app
