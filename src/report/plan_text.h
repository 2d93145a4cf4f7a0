#pragma once

#include <string>
#include <vector>

#include "advise/plan_check.h"
#include "organ/registration.h"
#include "plan/service.h"
#include "report/table.h"

namespace loftbeat::report {

// A plan's check, to be shown. Pointers must outlive it; neither may be null.
struct CheckedPlan {
  std::string title;
  std::string church;  // empty: none
  const advise::CheckContext* context = nullptr;
  const advise::PlanCheck* check = nullptr;
  std::vector<organ::Registration> drawn;  // by pass; empty without an organ
};

// For the terminal: what is drawn, the move at every join with the time it takes and the time there
// is, what stands against the plan (most dangerous first), and what is worth knowing.
[[nodiscard]] std::string plan_text(const CheckedPlan& plan, const TerminalStyle& style);

// The head of a service's check, and what moves from one hymn to the next.
[[nodiscard]] std::string service_heading(const plan::Service& service, const TerminalStyle& style);
[[nodiscard]] std::string between_hymns_text(const advise::ConsoleMap& console,
                                             const advise::HandWork& work,
                                             const TerminalStyle& style);

}  // namespace loftbeat::report
