#pragma once

#include <string>

#include "app/plan_command.h"

namespace loftbeat::app {

// `loftbeat card`, understood.
struct CardOrder {
  PlanOrder plan;       // what is checked: a plan or a service
  std::string to_path;  // ends with .pdf, .html or .svg; "-": HTML on standard output
};

// Writes the card of a plan, or one for each hymn of a service, in order; returns the exit code.
// An SVG holds one page: of a card that needs more, the others go to FILE-2.svg and so on.
int run_card(const CardOrder& order);

}  // namespace loftbeat::app
