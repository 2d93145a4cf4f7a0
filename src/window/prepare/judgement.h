#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "advise/plan_measures.h"
#include "app/checked_plan.h"

namespace loftbeat::window {

// What the check and the measures say of a plan, ready to be shown.
struct JudgedFinding {
  int pass = -1;  // of the route; a join's finding belongs to the pass after it
  bool is_note = false;
  std::string sentence;
};
struct Judgement {
  std::shared_ptr<const app::CheckedFile> checked;  // null: see trouble
  std::optional<advise::PlanMeasures> measures;     // none without church or people
  std::vector<JudgedFinding> findings;              // the most dangerous first
  std::vector<std::string> moves;  // by pass: the move at the join before it; empty: none
  std::string trouble;             // why nothing can be said, with what to do
};

// By the functions that the command line uses. Any thread; some tens of milliseconds.
[[nodiscard]] Judgement judge(const plan::Plan& plan);

}  // namespace loftbeat::window
