#include "app/checked_plan.h"

#include <string_view>
#include <utility>

#include "app/player_option.h"
#include "music/read.h"
#include "plan/read.h"

namespace loftbeat::app {
namespace {

SoundOrder files_of(const PlanOrder& order) {
  SoundOrder files;
  files.organ_path = order.organ_path;
  files.stop_list = order.stop_list;
  files.church_path = order.church_path;
  if (order.people >= 0) files.people = order.people;
  return files;
}

// How each pass sounds in its church, with the people expected singing. Empty without a church or
// people.
Result<std::vector<advise::MeasuredRegistration>> measured(const CheckedFile& checked) {
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

Status check_with_organ(const SoundOrder& files, plan::Plan plan, CheckedFile& checked) {
  Result<SoundData> data = sound_data_of(files, std::move(plan));
  if (!data) return data.error();
  checked.data = std::move(*data);
  Result<PlannedSound> planned = planned_sound(files, checked.data);
  if (!planned) return planned.error();
  checked.planned = std::move(*planned);
  checked.console = advise::lay_out(checked.data.organ);
  checked.context =
      advise::make_check_context(checked.planned.plan, checked.planned.score, checked.planned.route,
                                 &checked.console, checked.data.people);
  checked.context->player = checked.player;
  const auto measures = measured(checked);
  if (!measures) return measures.error();
  checked.check = advise::check_plan(*checked.context, checked.planned.registrations, *measures);
  return {};
}

// What can be told of the tune alone.
Status check_without_organ(plan::Plan plan, CheckedFile& checked) {
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

}  // namespace

Status check_file(const PlanOrder& order, const std::string& plan_path, CheckedFile& checked) {
  Result<plan::Plan> plan = plan::read_plan(plan_path);
  if (!plan) return plan.error();
  return check_value(order, std::move(*plan), checked);
}

Status check_value(const PlanOrder& order, plan::Plan plan, CheckedFile& checked) {
  const Result<advise::PlayerTimes> player = player_to_plan_with(order.player_path);
  if (!player) return player.error();
  checked.player = *player;
  if (plan.organ_path.empty() && order.organ_path.empty() && order.stop_list.empty())
    return check_without_organ(std::move(plan), checked);
  return check_with_organ(files_of(order), std::move(plan), checked);
}

std::optional<advise::HandWork> work_between(const CheckedFile& before, const CheckedFile& after) {
  const bool organs = before.context->console != nullptr && after.context->console != nullptr;
  if (!organs || before.data.organ.file != after.data.organ.file) return std::nullopt;
  return advise::hand_work(before.console, before.planned.registrations.back(),
                           after.planned.registrations.front(), before.player);
}

std::string title_of(const CheckedFile& checked) {
  const std::string& title = checked.planned.plan.title;
  return title.empty() ? checked.planned.score.title : title;
}

report::CheckedPlan shown_plan(const CheckedFile& checked) {
  report::CheckedPlan shown;
  shown.title = title_of(checked);
  shown.context = &*checked.context;
  shown.check = &checked.check;
  shown.drawn = checked.planned.registrations;
  shown.church = checked.data.church ? checked.data.church->name : "";
  return shown;
}

bool is_service(const std::string& path) {
  constexpr std::string_view kEnding = ".service.toml";
  return path.size() >= kEnding.size() && path.ends_with(kEnding);
}

}  // namespace loftbeat::app
