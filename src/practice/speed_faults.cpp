#include <cmath>

#include "practice/findings.h"

namespace loftbeat::practice {

namespace {

using timing::PassMeasures;

Finding of_pass(FindingKind kind, const PassMeasures& pass, double figure, double tolerance) {
  Finding finding;
  finding.kind = kind;
  finding.pass = pass.pass;
  finding.figure = figure;
  finding.unit = "percent";
  finding.severity = std::abs(figure) / tolerance;
  return finding;
}

double known_or_zero(const Measured<double>& measured) { return measured.value.value_or(0); }

void add_tempo(const PassMeasures& pass, const plan::Tolerances& limits,
               std::vector<Finding>& out) {
  if (!pass.tempo_offset_percent) return;
  const double offset = *pass.tempo_offset_percent;
  if (surely_beyond(offset, limits.tempo_percent, known_or_zero(pass.tempo_uncertainty_percent)))
    out.push_back(of_pass(FindingKind::tempo_off, pass, offset, limits.tempo_percent));
}

void add_trend(const PassMeasures& pass, const plan::Tolerances& limits,
               std::vector<Finding>& out) {
  if (!pass.trend_percent) return;
  const double trend = *pass.trend_percent;
  if (!surely_beyond(trend, limits.trend_percent, known_or_zero(pass.trend_uncertainty_percent)))
    return;
  const auto kind = trend < 0 ? FindingKind::dragging : FindingKind::rushing;
  out.push_back(of_pass(kind, pass, trend, limits.trend_percent));
}

void add_unsteadiness(const PassMeasures& pass, const plan::Tolerances& limits,
                      std::vector<Finding>& out) {
  if (!pass.steadiness_percent) return;
  const double spread = *pass.steadiness_percent;
  if (surely_beyond(spread, limits.steadiness_percent,
                    known_or_zero(pass.steadiness_uncertainty_percent)))
    out.push_back(of_pass(FindingKind::unsteady, pass, spread, limits.steadiness_percent));
}

void add_hesitations(const PassMeasures& pass, const plan::Tolerances& limits,
                     std::vector<Finding>& out) {
  for (const timing::Hesitation& hesitation : pass.hesitations) {
    Finding finding =
        of_pass(FindingKind::hesitation, pass, hesitation.extra_beats, limits.hesitation_beats);
    finding.unit = "beats";
    finding.bar = hesitation.bar;
    out.push_back(std::move(finding));
  }
}

}  // namespace

void find_speed_faults(const Review& review, std::vector<Finding>& out) {
  const plan::Tolerances& limits = review.plan.tolerances;
  const bool slows = play_over_slows(review);
  for (const PassMeasures& pass : review.timing.passes) {
    const bool told_as_slowing = slows && pass.pass == review.timing.play_over->pass;
    if (!told_as_slowing) {
      add_tempo(pass, limits, out);
      add_trend(pass, limits, out);
      add_unsteadiness(pass, limits, out);
    }
    add_hesitations(pass, limits, out);
  }
}

}  // namespace loftbeat::practice
