#pragma once

#include <string>

#include "advise/planner.h"
#include "report/table.h"

namespace loftbeat::report {

// Registrations suggested, to be shown. Pointers must outlive it; neither may be null.
struct SuggestedPlan {
  std::string title;
  std::string church;
  const advise::CheckContext* context = nullptr;
  const advise::Suggestions* suggestions = nullptr;
};

// For the terminal: of each suggestion what to draw, how it sounds, what moves, what it gives up.
[[nodiscard]] std::string suggestion_text(const SuggestedPlan& plan, const TerminalStyle& style);

}  // namespace loftbeat::report
