#include <cmath>

#include "practice/findings.h"
#include "timing/lag.h"

namespace loftbeat::practice {

namespace {

void add_lag(const timing::PassMeasures& pass, const Measured<timing::LagMs>& lag, FindingKind late,
             FindingKind early, double tolerance_ms, std::vector<Finding>& out) {
  if (!lag || !surely_beyond(lag->median_ms, tolerance_ms, timing::lag_uncertainty_ms(*lag)))
    return;
  Finding finding;
  finding.kind = lag->median_ms > 0 ? late : early;
  finding.pass = pass.pass;
  finding.figure = lag->median_ms;
  finding.unit = "ms";
  finding.severity = std::abs(lag->median_ms) / tolerance_ms;
  out.push_back(std::move(finding));
}

}  // namespace

void find_limb_faults(const Review& review, std::vector<Finding>& out) {
  const double tolerance_ms = review.plan.tolerances.pedal_lag_ms;
  for (const timing::PassMeasures& pass : review.timing.passes) {
    add_lag(pass, pass.pedal_lag, FindingKind::feet_late, FindingKind::feet_early, tolerance_ms,
            out);
    add_lag(pass, pass.left_hand_lag, FindingKind::hands_apart, FindingKind::hands_apart,
            tolerance_ms, out);
  }
}

}  // namespace loftbeat::practice
