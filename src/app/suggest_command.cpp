#include "app/suggest_command.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "app/checked_plan.h"
#include "app/endings.h"
#include "app/suggested_plan.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "plan/read.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

// The plan as a file, with one of the suggestions in it.
Status write_choice(const PlanOrder& order, const CheckedFile& checked,
                    const advise::Suggestions& suggestions) {
  if (static_cast<std::size_t>(order.choice) > suggestions.plans.size())
    return wrong_use(fmt::format("there is no suggestion {}; there are {}.", order.choice,
                                 suggestions.plans.size()),
                     "");
  std::error_code failure;
  if (std::filesystem::exists(order.to_path, failure))
    return wrong_use(fmt::format("{} is there already and is not written over.", order.to_path),
                     "Name a new file.");
  plan::Plan plan = advise::with_registrations(
      checked.planned.plan, checked.planned.route, checked.data.organ,
      suggestions.plans[static_cast<std::size_t>(order.choice) - 1].drawn);
  plan.file = order.to_path;
  return loftbeat::write_file(order.to_path, plan::format_plan(plan));
}

}  // namespace

int run_suggest(const PlanOrder& order) {
  if (is_service(order.path))
    return fail(wrong_use("--suggest takes one plan, not a service.",
                          "Name the service's plans one after the other."));
  CheckedFile checked;
  Status status = check_file(order, order.path, checked);
  if (status) status = check_ground(checked);
  if (!status) return fail(status.error());
  const Result<advise::Suggestions> suggestions = suggestions_for(checked);
  if (!suggestions) return fail(suggestions.error());
  if (!suggestions->unreachable.empty())
    return fail(advise::unreachable_error(*checked.context, suggestions->unreachable.front()));
  report::SuggestedPlan shown;
  shown.title = title_of(checked);
  shown.church = checked.data.church->name;
  shown.context = &*checked.context;
  shown.suggestions = &*suggestions;
  const report::TerminalStyle style = choose_style(look_at_terminal());
  status = loftbeat::write_file("-", report::suggestion_text(shown, style) +
                                         report::assumed_text(checked.data.assumed, style));
  if (status && !order.to_path.empty()) status = write_choice(order, checked, *suggestions);
  return status ? kReviewed : fail(status.error());
}

}  // namespace loftbeat::app
