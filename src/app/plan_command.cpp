#include "app/plan_command.h"

#include <memory>
#include <utility>

#include "app/checked_plan.h"
#include "app/endings.h"
#include "app/player_option.h"
#include "app/suggest_command.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "plan/service.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

std::string text_of(const CheckedFile& checked) {
  return report::plan_text(shown_plan(checked), choose_style(look_at_terminal()));
}

std::string assumed_of(const CheckedFile& checked) {
  return report::assumed_text(checked.data.assumed, choose_style(look_at_terminal()));
}

std::string between(const CheckedFile& before, const CheckedFile& after) {
  const std::optional<advise::HandWork> work = work_between(before, after);
  if (!work) return {};
  return report::between_hymns_text(before.console, *work, choose_style(look_at_terminal()));
}

Result<std::string> service_text(const PlanOrder& order) {
  const Result<plan::Service> service = plan::read_service(order.path);
  if (!service) return service.error();
  std::string text = report::service_heading(*service, choose_style(look_at_terminal()));
  std::unique_ptr<CheckedFile> before;  // a CheckedFile points into itself and stays where it is
  for (const plan::ServiceHymn& hymn : service->hymns) {
    auto checked = std::make_unique<CheckedFile>();
    if (const Status status = check_file(order, hymn.plan_path, *checked); !status)
      return status.error();
    if (before) text += between(*before, *checked);
    text += "\n" + text_of(*checked);
    before = std::move(checked);
  }
  if (before) text += assumed_of(*before);
  return text;
}

// Whose movement times were used, below what was said; nothing where none were asked for.
int ended_with_player(const PlanOrder& order, int code) {
  if (code != kReviewed || order.player_path.empty()) return code;
  const Result<advise::PlayerTimes> player = player_to_plan_with(order.player_path);
  if (!player) return fail(player.error());
  const Status shown = write_file("-", "\n" + player_sentence(order.player_path, *player));
  return shown ? code : fail(shown.error());
}

int checked_plan(const PlanOrder& order) {
  if (order.suggest) return run_suggest(order);
  if (is_service(order.path)) {
    const Result<std::string> text = service_text(order);
    if (!text) return fail(text.error());
    const Status shown = write_file("-", *text);
    return shown ? kReviewed : fail(shown.error());
  }
  CheckedFile checked;
  if (const Status status = check_file(order, order.path, checked); !status)
    return fail(status.error());
  const Status shown = write_file("-", text_of(checked) + assumed_of(checked));
  return shown ? kReviewed : fail(shown.error());
}

}  // namespace

int run_plan(const PlanOrder& order) { return ended_with_player(order, checked_plan(order)); }

}  // namespace loftbeat::app
