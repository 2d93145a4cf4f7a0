#include "app/listen_work.h"

#include <algorithm>
#include <utility>

#include "music/read.h"
#include "plan/read.h"
#include "practice/drill.h"

namespace loftbeat::app {
namespace {

// Between two tries of a part one does not wait so long.
constexpr double kQuietInDrill = 4;

Result<practice::Drill> part_of(const Only& only, plan::Plan plan, const music::Score& score) {
  if (only.what == Only::What::all) return practice::Drill{std::move(plan), ""};
  const plan::Plan settled = settled_plan(std::move(plan), score);
  if (only.what == Only::What::join) return practice::join_drill(settled, score, only.verse);
  return practice::play_over_drill(settled, score);
}

// A verse sung alone is silent from beginning to end.
double silent_verse_seconds(const plan::Plan& plan, const music::Score& score, double tempo_bpm) {
  const bool alone = std::any_of(plan.verse_plans.begin(), plan.verse_plans.end(),
                                 [](const auto& verse) { return verse.second.unaccompanied; });
  if (!alone) return 0;
  const double beats =
      static_cast<double>(score.length) / static_cast<double>(plan::ticks(plan.beat));
  return beats * 60 / tempo_bpm;
}

}  // namespace

live::LiveView::Work ListenWork::view() const {
  return {&checked.planned.plan, &checked.planned.score, &checked.planned.route,
          checked.planned.tempo_bpm};
}

std::vector<practice::CountedBeat> ListenWork::counted(double first_note_s) const {
  std::vector<practice::CountedBeat> beats;
  for (const live::PlannedBeat& beat : track.beats) {
    if (beat.tick < 0) continue;
    beats.push_back({beat.pass, beat.tick, first_note_s + beat.seconds, beat.clicks});
  }
  return beats;
}

Result<std::unique_ptr<ListenWork>> listen_work(const ListenOrder& order, live::ClickMode click) {
  auto work = std::make_unique<ListenWork>();
  Result<plan::Plan> plan = plan::read_plan(order.plan_path);
  if (!plan) return plan.error();
  const Result<music::ReadScore> score = music::read_score(plan->score_path);
  if (!score) return score.error();
  work->tune = plan->title.empty() ? score->score.title : plan->title;
  Result<practice::Drill> drill = part_of(order.only, std::move(*plan), score->score);
  if (!drill) return drill.error();
  work->plan = std::move(drill->plan);
  work->words = std::move(drill->words);
  // Nobody's hand moves what the plan moves by itself.
  if (order.stops_by == ListenOrder::StopsBy::plan) work->plan.helper = true;
  const Status checked = check_value({}, settled_plan(work->plan, score->score), work->checked);
  if (!checked) return checked.error();
  PlannedSound& planned = work->checked.planned;
  planned.tempo_bpm = tempo_meant(planned.plan, planned.score);
  work->steps =
      advise::desk_steps(*work->checked.context, work->checked.check, planned.registrations);
  work->track = live::click_track({&planned.plan, &planned.score, &planned.route, planned.tempo_bpm,
                                   click, order.count_in_bars, 2, 2});
  work->quiet_seconds = order.only.what == Only::What::all ? 10 : kQuietInDrill;
  work->quiet_seconds += silent_verse_seconds(planned.plan, planned.score, planned.tempo_bpm);
  return work;
}

}  // namespace loftbeat::app
