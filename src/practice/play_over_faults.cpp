#include <cmath>

#include "practice/findings.h"
#include "timing/tolerances.h"

namespace loftbeat::practice {

namespace {

// Softer than verse 1 by more than this share of its mean velocity is timid (common practice, no
// source: how velocity becomes strength differs from keyboard to keyboard).
constexpr double kTimidPercent = 20;

Finding of_play_over(const Review& review, FindingKind kind, double figure, double tolerance) {
  Finding finding;
  finding.kind = kind;
  finding.pass = review.timing.play_over->pass;
  finding.figure = figure;
  finding.unit = "percent";
  finding.severity = std::abs(figure) / tolerance;
  return finding;
}

double slowing_tolerance(const Review& review) { return review.plan.tolerances.trend_percent; }

void add_timid(const Review& review, std::vector<Finding>& out) {
  const timing::PlayOverMeasures& measured = *review.timing.play_over;
  if (!measured.mean_velocity || !measured.verse_mean_velocity) return;
  if (*measured.verse_mean_velocity <= 0) return;
  const double softer = 100 * (1 - *measured.mean_velocity / *measured.verse_mean_velocity);
  if (softer > kTimidPercent)
    out.push_back(of_play_over(review, FindingKind::play_over_timid, softer, kTimidPercent));
}

}  // namespace

bool play_over_slows(const Review& review) {
  const auto& play_over = review.timing.play_over;
  if (!play_over || !play_over->slowing_percent) return false;
  return *play_over->slowing_percent > 0 &&
         surely_beyond(*play_over->slowing_percent, slowing_tolerance(review),
                       play_over->slowing_uncertainty_percent.value.value_or(0));
}

void find_play_over_faults(const Review& review, std::vector<Finding>& out) {
  if (!review.timing.play_over) return;
  const timing::PlayOverMeasures& measured = *review.timing.play_over;
  const double tolerance = review.plan.tolerances.tempo_percent;
  if (play_over_slows(review))
    out.push_back(of_play_over(review, FindingKind::play_over_slowing, *measured.slowing_percent,
                               slowing_tolerance(review)));
  else if (measured.tempo_difference_percent &&
           surely_beyond(*measured.tempo_difference_percent, tolerance,
                         measured.tempo_uncertainty_percent.value.value_or(0)))
    out.push_back(of_play_over(review, FindingKind::play_over_tempo,
                               *measured.tempo_difference_percent, tolerance));
  add_timid(review, out);
}

}  // namespace loftbeat::practice
