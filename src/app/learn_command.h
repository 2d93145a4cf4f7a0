#pragma once

#include <string>
#include <vector>

#include "app/listen_command.h"

namespace loftbeat::app {

// `loftbeat learn`, understood.
struct LearnOrder {
  std::string organ_path;
  std::vector<InputChoice> inputs;  // empty: the only one there is, or asks
  std::string to_path;              // where the organ file with the mappings is written
};

// Asks for each stop, coupler, tremulant and piston to be moved, finds what it sends, and writes
// the organ file anew with it; returns the exit code. Enter leaves a control as it is, "." ends:
// what was learned so far is written all the same.
int run_learn(const LearnOrder& order);

}  // namespace loftbeat::app
