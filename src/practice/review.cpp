#include "practice/review.h"

#include <algorithm>
#include <utility>

#include "plan/route.h"
#include "practice/findings.h"
#include "practice/sentences.h"
#include "take/hygiene.h"

namespace loftbeat::practice {

namespace {

// Speed that the follower begins from where nobody states one: the middle of what hymns have.
constexpr double kUsualBpm = 80;

void append(const std::vector<Notice>& from, std::vector<Notice>& to) {
  to.insert(to.end(), from.begin(), from.end());
}

// Where the plan sets no tempo, the score's first tempo mark is the set one.
void take_tempo_from_score(const music::Score& score, plan::Plan& plan,
                           std::vector<Notice>& notices) {
  if (plan.tempo_bpm > 0 || score.tempi.empty()) return;
  plan.tempo_bpm = score.tempi.front().quarters_per_minute / quarters(plan::ticks(plan.beat));
  notices.push_back({"the plan sets no tempo; the score's own mark is used", plan.file, 0});
}

double quarters_per_minute(const plan::Plan& plan) {
  const double bpm = plan.tempo_bpm > 0 ? plan.tempo_bpm : kUsualBpm;
  return bpm * quarters(plan::ticks(plan.beat));
}

int count_runs(const follow::Alignment& alignment) {
  int runs = 1;
  for (const follow::AlignedPass& pass : alignment.passes) runs = std::max(runs, pass.run);
  return runs;
}

}  // namespace

void judge(Review& review) {
  review.timing =
      timing::measure({review.score, review.plan, review.route, review.take, review.alignment});
  review.runs = count_runs(review.alignment);
  review.findings = find_faults(review);
  review.advice = advice(review);
}

void judge_stops(Review& review, const take::Take& raw, const advise::ConsoleMap& console,
                 const advise::PlayerTimes& player) {
  review.stops = advise::review_stops(
      {console, review.plan, raw, review.take, review.alignment, review.timing.joins, player});
  append(review.stops.notices, review.notices);
  review.findings = find_faults(review);
  review.advice = advice(review);
}

Result<Review> review(plan::Plan plan, music::ReadScore score, const take::Take& take,
                      std::string take_name) {
  Review out;
  out.take_name = std::move(take_name);
  append(score.notices, out.notices);
  append(take.notices, out.notices);
  out.plan = std::move(plan);
  out.score = std::move(score.score);
  take_tempo_from_score(out.score, out.plan, out.notices);
  auto route = plan::make_route(out.plan, out.score);
  if (!route) return route.error();
  out.route = std::move(route).value();
  out.take = take::clean(take);
  append(out.take.notices, out.notices);
  auto alignment = follow::align(out.score, out.route, quarters_per_minute(out.plan), out.take);
  if (!alignment) return alignment.error();
  out.alignment = std::move(alignment).value();
  append(out.alignment.notices, out.notices);
  judge(out);
  return out;
}

void judge_singing(Review& review, const crowd::CrowdRecord& record) {
  review.led =
      crowd::who_led({review.score, review.route, review.alignment, record, review.plan.beat});
}

}  // namespace loftbeat::practice
