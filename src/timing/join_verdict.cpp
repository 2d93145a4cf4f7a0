#include "timing/join_verdict.h"

#include <algorithm>
#include <cmath>

#include "timing/tolerances.h"

namespace loftbeat::timing {

namespace {

constexpr double kNearWholeBeat = 0.25;
constexpr const char* kWithinUncertainty =
    "it lies so near the limit that the measurement cannot decide";

double floor_ms(const plan::Tolerances& tolerances, double span_ms) {
  return std::max(tolerances.join_ms, tolerances.join_percent / 100 * span_ms);
}

// Whole beats of an error: the nearest whole number where it is near (the pulse was kept, more or
// less, and the count slipped), else what is full of it: half a beat late is no beat miscounted.
double whole_beats(double beats) {
  const double nearest = std::round(beats);
  return std::abs(beats - nearest) <= kNearWholeBeat ? nearest : std::trunc(beats);
}

// Between the limit and the limit plus one standard uncertainty, or within twice that uncertainty
// altogether, the figures do not decide.
bool undecided(double error_ms, double in_time_ms, double uncertainty_ms) {
  return error_ms <= std::max(in_time_ms + uncertainty_ms, kCoverage * uncertainty_ms);
}

JoinVerdict planned_verdict(const JoinMeasures& join, double in_time_ms, double whole_error_beats) {
  const double phase = std::abs(*join.phase_error_ms);
  if (phase <= in_time_ms)
    return *join.count_error_beats == 0 ? JoinVerdict::in_time : JoinVerdict::miscounted;
  if (undecided(phase, in_time_ms, *join.uncertainty_ms)) return JoinVerdict::cannot_tell;
  return whole_error_beats < 0 ? JoinVerdict::early : JoinVerdict::late;
}

double reference_span(const std::vector<Comparable>& comparable,
                      const std::vector<JoinMeasures>& joins) {
  std::vector<double> spans;
  for (const Comparable& c : comparable) spans.push_back(*joins[c.join].span_beats);
  return spans.size() >= 3 ? median(std::move(spans)) : spans.front();
}

}  // namespace

void judge_planned(const plan::Tolerances& tolerances, double period_s, JoinMeasures& join) {
  const double planned = *join.planned_span_beats;
  const double error = *join.span_beats - planned;
  const double count = whole_beats(error);
  join.count_error_beats = static_cast<int>(count);
  join.phase_error_beats = error - count;
  join.phase_error_ms = (error - count) * period_s * 1000;
  const double in_time = floor_ms(tolerances, planned * period_s * 1000);
  const double reach = kCoverage * *join.uncertainty_ms;
  join.tolerance_ms = std::max(in_time, reach);
  join.verdict = planned_verdict(join, in_time, error);
  if (join.verdict == JoinVerdict::cannot_tell) join.why = kWithinUncertainty;
}

void judge_likeness(const plan::Tolerances& tolerances, const std::vector<Comparable>& comparable,
                    std::vector<JoinMeasures>& joins) {
  if (comparable.empty()) return;
  const double first = *joins[comparable.front().join].span_beats;
  const double reference = reference_span(comparable, joins);
  for (const Comparable& c : comparable) {
    JoinMeasures& join = joins[c.join];
    join.likeness_beats = *join.span_beats - first;
    if (join.planned_span_beats) continue;
    if (comparable.size() < 2) {
      join.why = "no join is planned, and there is no other to compare it with";
      continue;
    }
    const double in_time = floor_ms(tolerances, reference * c.period_s * 1000);
    // Two joins are compared, each with its uncertainty.
    const double reach = kCoverage * std::sqrt(2.0) * *join.uncertainty_ms;
    join.tolerance_ms = std::max(in_time, reach);
    const double apart = std::abs(*join.span_beats - reference) * c.period_s * 1000;
    join.verdict = JoinVerdict::unlike;
    if (apart <= *join.tolerance_ms)
      join.verdict = JoinVerdict::alike;
    else if (undecided(apart, in_time, std::sqrt(2.0) * *join.uncertainty_ms))
      join.verdict = JoinVerdict::cannot_tell;
    if (join.verdict == JoinVerdict::cannot_tell) join.why = kWithinUncertainty;
  }
}

}  // namespace loftbeat::timing
