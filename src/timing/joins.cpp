#include "timing/joins.h"

#include <algorithm>
#include <cmath>

#include "timing/join_verdict.h"
#include "timing/releases.h"
#include "timing/settling.h"
#include "timing/tolerances.h"

namespace loftbeat::timing {

namespace {

// An onset that was not struck is stood for by another at most so many beats away.
constexpr double kLargestPatchBeats = 2;

// Beats from the last struck onset to the tune's last, and from its first to the first struck.
struct Patch {
  double before = 0;
  double after = 0;
  [[nodiscard]] bool too_large() const { return std::max(before, after) > kLargestPatchBeats; }
};

double first_onset_place(const music::Score& score, const PassWay& way) {
  const TickSpan stretch = way.stretches().front();
  const auto note =
      std::partition_point(score.notes.begin(), score.notes.end(),
                           [&](const music::Note& n) { return n.onset < stretch.begin; });
  if (note == score.notes.end() || !stretch.contains(note->onset)) return 0;
  return way.place(0, note->onset);
}

double last_onset_place(const music::Score& score, const PassWay& way) {
  const std::size_t last = way.stretches().size() - 1;
  const TickSpan stretch = way.stretches()[last];
  const auto after =
      std::partition_point(score.notes.begin(), score.notes.end(),
                           [&](const music::Note& n) { return n.onset < stretch.end; });
  if (after == score.notes.begin() || !stretch.contains(std::prev(after)->onset))
    return way.length();
  return way.place(last, std::prev(after)->onset);
}

Patch patch_of(const music::Score& score, const FittedPass& before, const FittedPass& after) {
  return {last_onset_place(score, before.way) - before.struck.back().x,
          after.struck.front().x - first_onset_place(score, after.way)};
}

double standard_uncertainty_s(const Question& q, const FittedPass& before, const FittedPass& after,
                              double span_beats) {
  const double jitter = before.pulse.jitter_s;
  const double after_jitter = after.pulse.known ? after.pulse.jitter_s : jitter;
  const double stamp = seconds(q.take.stamp_uncertainty) / std::sqrt(3.0);
  return std::hypot(std::hypot(jitter, after_jitter), std::sqrt(2.0) * stamp,
                    span_beats * end_ruler(before).uncertainty_s);
}

// When the next pass entered: its first median onset, or its very first note if it was begun
// again from there.
double entry_s(const FittedPass& after) {
  const StruckPlace& first = after.struck.front();
  const auto& restarts = after.pass->restarts;
  const bool again = std::any_of(restarts.begin(), restarts.end(),
                                 [&](const auto& r) { return r.to <= first.tick; });
  return again ? seconds(after.pass->first_onset) : first.t;
}

void put_instants(const FittedPass& before, const FittedPass& after, JoinMeasures& join) {
  join.run = before.pass->run;
  join.last_onset_s = before.struck.back().t;
  join.release_s = seconds(before.pass->last_release);
  join.onset_s = seconds(after.pass->first_onset);
  join.silence_s = join.onset_s - join.release_s;
}

void put_plan(const JoinPlan& planned, JoinMeasures& join) {
  join.after_play_over = planned.after_play_over;
  join.with_interlude = planned.with_interlude;
  join.planned_span_beats = planned.span_beats;
  const bool parts = planned.join && planned.join->kind == plan::JoinKind::hold_and_lift;
  const auto unknown =
      Measured<double>::unknown(planned.join ? "the plan counts by the bar" : "no join is planned");
  join.planned_hold_beats = parts ? Measured<double>(planned.join->hold_beats) : unknown;
  join.planned_lift_beats = parts ? Measured<double>(planned.join->lift_beats) : unknown;
}

void put_unknown(const std::string& why, JoinMeasures& join) {
  join.hold_beats = join.lift_beats = join.span_beats = Measured<double>::unknown(why);
  join.count_error_beats = Measured<int>::unknown(why);
  join.phase_error_beats = join.phase_error_ms = Measured<double>::unknown(why);
  join.uncertainty_ms = join.tolerance_ms = Measured<double>::unknown(why);
  join.likeness_beats = Measured<double>::unknown(why);
  join.why = why;
}

void put_measures(const Question& q, const FittedPass& before, const FittedPass& after,
                  JoinMeasures& join) {
  const Patch patch = patch_of(q.score, before, after);
  if (!before.pulse.known || patch.too_large()) {
    put_unknown(before.pulse.known ? "the tune was broken off or begun elsewhere"
                                   : "the pass before it has no pulse",
                join);
    return;
  }
  const double period = end_ruler(before).period_s;
  const double span =
      (entry_s(after) - before.struck.back().t) / period - patch.before - patch.after;
  join.span_beats = span;
  join.hold_beats = (join.release_s - join.last_onset_s) / period - patch.before;
  join.lift_beats = join.silence_s / period - patch.after;
  join.uncertainty_ms = 1000 * standard_uncertainty_s(q, before, after, span);
  const std::string& why = join.planned_span_beats.reason;
  join.count_error_beats = Measured<int>::unknown(why);
  join.phase_error_beats = join.phase_error_ms = Measured<double>::unknown(why);
  join.tolerance_ms = join.likeness_beats = Measured<double>::unknown(why);
  if (join.planned_span_beats) {
    judge_planned(q.plan.tolerances, period, join);
    join.likeness_beats = Measured<double>::unknown("it stands apart from the verse joins");
  } else {
    join.why = why;
  }
}

// Passes that take part in joins, in time.
std::vector<std::size_t> joinable(const std::vector<FittedPass>& passes) {
  std::vector<std::size_t> indices;
  for (std::size_t i = 0; i < passes.size(); ++i)
    if (!passes[i].struck.empty()) indices.push_back(i);
  return indices;
}

}  // namespace

std::vector<JoinMeasures> measure_joins(const Question& question,
                                        const std::vector<FittedPass>& passes) {
  std::vector<JoinMeasures> joins;
  std::vector<Comparable> comparable;
  const std::vector<std::size_t> order = joinable(passes);
  for (std::size_t k = 1; k < order.size(); ++k) {
    const FittedPass &before = passes[order[k - 1]], &after = passes[order[k]];
    if (before.pass->run != after.pass->run) continue;
    JoinMeasures join;
    join.before = static_cast<int>(order[k - 1]);
    join.after = static_cast<int>(order[k]);
    const JoinPlan planned = plan_of_join(question, order[k - 1], order[k]);
    put_plan(planned, join);
    put_instants(before, after, join);
    put_measures(question, before, after, join);
    join.settling_beats = settling_beats(after);
    join.together_ms = last_chord_together_ms(question, join.before);
    if (planned.comparable && join.span_beats)
      comparable.push_back({joins.size(), end_ruler(before).period_s});
    joins.push_back(std::move(join));
  }
  judge_likeness(question.plan.tolerances, comparable, joins);
  return joins;
}

std::optional<double> usual_span(const std::vector<JoinMeasures>& joins) {
  std::vector<double> spans;
  for (const JoinMeasures& join : joins)
    if (join.span_beats && !join.after_play_over && !join.with_interlude)
      spans.push_back(*join.span_beats);
  if (spans.empty()) return std::nullopt;
  return std::round(median(std::move(spans)) * 2) / 2;
}

std::string to_string(JoinVerdict verdict) {
  switch (verdict) {
    case JoinVerdict::in_time: return "in time";
    case JoinVerdict::early: return "early";
    case JoinVerdict::late: return "late";
    case JoinVerdict::miscounted: return "miscounted";
    case JoinVerdict::cannot_tell: break;
    case JoinVerdict::unlike: return "unlike the others";
    case JoinVerdict::alike: return "like the others";
  }
  return "cannot tell";
}

}  // namespace loftbeat::timing
