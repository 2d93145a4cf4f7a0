#pragma once

#include <string>
#include <vector>

#include "app/checked_plan.h"
#include "report/card.h"

namespace loftbeat::app {

// Cards for the music desk, one for each hymn.
struct Cards {
  std::string title;
  std::vector<report::Card> cards;
};

// Of a plan, or of all plans of a service. Errors: what readers say.
[[nodiscard]] Result<Cards> cards_of(const PlanOrder& order);

// Of one plan that has been checked.
[[nodiscard]] Cards cards_of(const CheckedFile& checked);

}  // namespace loftbeat::app
