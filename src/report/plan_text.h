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

// "verse 2"; other passes by their label.
[[nodiscard]] std::string pass_label(const plan::RoutePass& pass);

// For the terminal: what is drawn, the move at every join with the time it takes and the time there
// is, what stands against the plan (most dangerous first), and what is worth knowing.
[[nodiscard]] std::string plan_text(const CheckedPlan& plan, const TerminalStyle& style);

// What was assumed of an organ that was typed as a list of stops; nothing for no sentences.
[[nodiscard]] std::string assumed_text(const std::vector<std::string>& sentences,
                                       const TerminalStyle& style);

// The head of a service's check, and what moves from one hymn to the next.
[[nodiscard]] std::string service_heading(const plan::Service& service, const TerminalStyle& style);
// "left: draw Great Principal 4; piston ..."; "nothing moves".
[[nodiscard]] std::string between_hymns_words(const advise::ConsoleMap& console,
                                              const advise::HandWork& work);
[[nodiscard]] std::string between_hymns_text(const advise::ConsoleMap& console,
                                             const advise::HandWork& work,
                                             const TerminalStyle& style);

}  // namespace loftbeat::report
