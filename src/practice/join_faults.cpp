#include <cmath>
#include <optional>

#include "practice/findings.h"

namespace loftbeat::practice {

namespace {

using timing::JoinMeasures;
using timing::JoinVerdict;

std::optional<FindingKind> fault_of(JoinVerdict verdict) {
  switch (verdict) {
    case JoinVerdict::early: return FindingKind::join_early;
    case JoinVerdict::late: return FindingKind::join_late;
    case JoinVerdict::miscounted: return FindingKind::join_miscounted;
    case JoinVerdict::unlike: return FindingKind::join_unlike;
    case JoinVerdict::in_time:
    case JoinVerdict::alike:
    case JoinVerdict::cannot_tell: break;
  }
  return std::nullopt;
}

// Beats by which the join was too long (positive) or too short.
double error_beats(const JoinMeasures& join) {
  if (join.planned_span_beats) return *join.span_beats - *join.planned_span_beats;
  return join.likeness_beats.value.value_or(0);
}

double severity(const JoinMeasures& join, FindingKind kind, double error) {
  if (kind == FindingKind::join_miscounted) return 1 + std::abs(error);
  const double tolerance_ms = join.tolerance_ms.value.value_or(0);
  const double last_s = join.onset_s - join.last_onset_s;
  if (tolerance_ms <= 0 || *join.span_beats <= 0) return 1;
  return std::abs(error) * last_s / *join.span_beats * 1000 / tolerance_ms;
}

}  // namespace

void find_join_faults(const Review& review, std::vector<Finding>& out) {
  for (std::size_t i = 0; i < review.timing.joins.size(); ++i) {
    const JoinMeasures& join = review.timing.joins[i];
    const auto kind = fault_of(join.verdict);
    if (!kind || !join.span_beats) continue;
    Finding finding;
    finding.kind = *kind;
    finding.pass = join.before;
    finding.join = static_cast<int>(i);
    finding.figure = error_beats(join);
    finding.unit = "beats";
    finding.severity = severity(join, *kind, finding.figure);
    out.push_back(std::move(finding));
  }
}

}  // namespace loftbeat::practice
