#include <algorithm>
#include <cmath>

#include "practice/findings.h"
#include "timing/tolerances.h"

namespace loftbeat::practice {

namespace {

// A habit, not a slip: one note in twenty (common practice, no source).
constexpr double kHabitShare = 0.05;
constexpr int kHabitCount = 3;
// Releases of four voices, each spread by 50 ms (the upper end of what good ensembles show, see
// timing/tolerances.h), lie 2.06 standard deviations apart on average (the mean range of four
// normal values, from memory).
constexpr double kRaggedMs = 2.06 * timing::kEnsembleTypicalHighMs;
// A share of the tune's repeated notes that is let pass (common practice, no source).
constexpr double kUnstruckShare = 0.25;

Finding of_pass(FindingKind kind, int pass, double figure, std::string unit, double severity) {
  Finding finding;
  finding.kind = kind;
  finding.pass = pass;
  finding.figure = figure;
  finding.unit = std::move(unit);
  finding.severity = severity;
  return finding;
}

double share(int part, int whole) {
  return whole > 0 ? static_cast<double>(part) / static_cast<double>(whole) : 0;
}

bool smears(const timing::Releases& releases) {
  return releases.smears >= kHabitCount && share(releases.smears, releases.notes) > kHabitShare;
}

void add_ragged(const Review& review, const timing::PassMeasures& pass, std::vector<Finding>& out) {
  const Measured<double>& together = pass.releases.together_ms;
  if (!together || smears(pass.releases)) return;
  // Limbs that come late leave late: that is told as such.
  double lag = 0;
  for (const auto* measured : {&pass.pedal_lag, &pass.left_hand_lag})
    if (*measured) lag = std::max(lag, std::abs((*measured)->median_ms));
  const bool lag_told = lag > review.plan.tolerances.pedal_lag_ms;
  const double own = *together - (lag_told ? lag : 0);
  if (own > kRaggedMs)
    out.push_back(
        of_pass(FindingKind::ragged_release, pass.pass, *together, "ms", own / kRaggedMs));
}

void add_unstruck(const timing::PassMeasures& pass, std::vector<Finding>& out) {
  const timing::Releases& releases = pass.releases;
  const double unstruck = share(releases.repeats_unstruck, releases.repeats);
  if (releases.repeats_unstruck >= kHabitCount && unstruck > kUnstruckShare)
    out.push_back(of_pass(FindingKind::repeats_unstruck, pass.pass,
                          static_cast<double>(releases.repeats_unstruck), "notes",
                          unstruck / kUnstruckShare));
}

void add_sustain(const timing::PassMeasures& pass, std::vector<Finding>& out) {
  const Measured<double>& sustain = pass.releases.sustain_share;
  if (sustain && *sustain > kHabitShare)
    out.push_back(
        of_pass(FindingKind::sustain_pedal, pass.pass, 100 * *sustain, "percent", 1 + *sustain));
}

}  // namespace

void find_release_faults(const Review& review, std::vector<Finding>& out) {
  for (const timing::PassMeasures& pass : review.timing.passes) {
    if (smears(pass.releases))
      out.push_back(of_pass(FindingKind::smear, pass.pass, *pass.releases.smear_ms, "ms",
                            *pass.releases.smear_ms / review.plan.tolerances.smear_ms));
    add_ragged(review, pass, out);
    add_unstruck(pass, out);
    add_sustain(pass, out);
  }
}

}  // namespace loftbeat::practice
