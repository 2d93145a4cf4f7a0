#include "app/plan_command.h"

#include <memory>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "advise/advise.h"
#include "app/endings.h"
#include "app/sound_data.h"
#include "app/sound_source.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "music/read.h"
#include "plan/read.h"
#include "plan/service.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

// One plan with all that its check looks at; the check points into it.
struct Checked {
  SoundData data;
  PlannedSound planned;
  advise::ConsoleMap console;
  std::optional<advise::CheckContext> context;
  advise::PlanCheck check;
};

SoundOrder files_of(const PlanOrder& order, const std::string& plan_path) {
  SoundOrder files;
  files.plan_path = plan_path;
  files.organ_path = order.organ_path;
  files.church_path = order.church_path;
  if (order.people >= 0) files.people = order.people;
  return files;
}

// How each pass sounds in its church, with the people expected singing. Empty without a church or
// people.
Result<std::vector<advise::MeasuredRegistration>> measured(const Checked& checked) {
  std::vector<advise::MeasuredRegistration> measures;
  if (!checked.data.church || checked.data.people < 1) return measures;
  const pipes::RankPowers ranks(checked.data.recipes);
  const auto powers = advise::StopPowers::make(checked.data.organ, checked.data.recipes, ranks);
  if (!powers) return powers.error();
  const advise::Hall hall =
      advise::make_hall(*checked.data.church, checked.data.people, checked.data.people);
  const advise::ListeningPlace place{&checked.data.organ, &*powers, &hall};
  for (std::size_t i = 0; i < checked.planned.registrations.size(); ++i) {
    measures.push_back(advise::measure_registration(place, checked.planned.registrations[i],
                                                    checked.context->sounds[i]));
  }
  return measures;
}

Status check_with_organ(const SoundOrder& files, Checked& checked) {
  Result<SoundData> data = read_sound_data(files);
  if (!data) return data.error();
  checked.data = std::move(*data);
  Result<PlannedSound> planned = planned_sound(files, checked.data);
  if (!planned) return planned.error();
  checked.planned = std::move(*planned);
  checked.console = advise::lay_out(checked.data.organ);
  checked.context =
      advise::make_check_context(checked.planned.plan, checked.planned.score, checked.planned.route,
                                 &checked.console, checked.data.people);
  const auto measures = measured(checked);
  if (!measures) return measures.error();
  checked.check = advise::check_plan(*checked.context, checked.planned.registrations, *measures);
  return {};
}

// What can be told of the tune alone.
Status check_without_organ(plan::Plan plan, Checked& checked) {
  Result<music::ReadScore> score = music::read_score(plan.score_path);
  if (!score) return score.error();
  checked.planned.plan = std::move(plan);
  checked.planned.score = std::move(score->score);
  Result<plan::Route> route = plan::make_route(checked.planned.plan, checked.planned.score);
  if (!route) return route.error();
  checked.planned.route = std::move(*route);
  checked.context = advise::make_check_context(checked.planned.plan, checked.planned.score,
                                               checked.planned.route);
  checked.check = advise::check_plan(*checked.context, {});
  return {};
}

Status check_file(const PlanOrder& order, const std::string& plan_path, Checked& checked) {
  Result<plan::Plan> plan = plan::read_plan(plan_path);
  if (!plan) return plan.error();
  if (plan->organ_path.empty() && order.organ_path.empty())
    return check_without_organ(std::move(*plan), checked);
  return check_with_organ(files_of(order, plan_path), checked);
}

std::string text_of(const Checked& checked) {
  report::CheckedPlan shown;
  shown.title =
      checked.planned.plan.title.empty() ? checked.planned.score.title : checked.planned.plan.title;
  shown.context = &*checked.context;
  shown.check = &checked.check;
  shown.drawn = checked.planned.registrations;
  shown.church = checked.data.church ? checked.data.church->name : "";
  return report::plan_text(shown, choose_style(look_at_terminal()));
}

bool is_service(std::string_view path) {
  constexpr std::string_view kEnding = ".service.toml";
  return path.size() >= kEnding.size() && path.substr(path.size() - kEnding.size()) == kEnding;
}

// What moves between two hymns of a service, where both are for one organ.
std::string between(const Checked& before, const Checked& after) {
  const bool organs = before.context->console != nullptr && after.context->console != nullptr;
  if (!organs || before.data.organ.file != after.data.organ.file) return {};
  const auto& last = before.planned.registrations.back();
  const auto& first = after.planned.registrations.front();
  return report::between_hymns_text(before.console, advise::hand_work(before.console, last, first),
                                    choose_style(look_at_terminal()));
}

Result<std::string> service_text(const PlanOrder& order) {
  const Result<plan::Service> service = plan::read_service(order.path);
  if (!service) return service.error();
  std::string text = report::service_heading(*service, choose_style(look_at_terminal()));
  std::unique_ptr<Checked> before;  // a Checked points into itself and stays where it is
  for (const plan::ServiceHymn& hymn : service->hymns) {
    auto checked = std::make_unique<Checked>();
    if (const Status status = check_file(order, hymn.plan_path, *checked); !status)
      return status.error();
    if (before) text += between(*before, *checked);
    text += "\n" + text_of(*checked);
    before = std::move(checked);
  }
  return text;
}

}  // namespace

int run_plan(const PlanOrder& order) {
  if (is_service(order.path)) {
    const Result<std::string> text = service_text(order);
    if (!text) return fail(text.error());
    const Status shown = write_file("-", *text);
    return shown ? kReviewed : fail(shown.error());
  }
  Checked checked;
  if (const Status status = check_file(order, order.path, checked); !status)
    return fail(status.error());
  const Status shown = write_file("-", text_of(checked));
  return shown ? kReviewed : fail(shown.error());
}

}  // namespace loftbeat::app
