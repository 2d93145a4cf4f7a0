#include "practice/findings.h"

#include <algorithm>
#include <cmath>

#include "practice/sentences.h"
#include "timing/tolerances.h"

namespace loftbeat::practice {

namespace {

bool same_fault(const Finding& a, const Finding& b) {
  return a.kind == b.kind && a.bar == b.bar && a.detail == b.detail &&
         (a.figure < 0) == (b.figure < 0);
}

int verse_count(const Review& review) {
  return static_cast<int>(
      std::count_if(review.alignment.passes.begin(), review.alignment.passes.end(),
                    [](const follow::AlignedPass& p) { return p.kind == plan::PassKind::verse; }));
}

std::vector<int> passes_of(const Finding& finding) {
  if (!finding.passes.empty() || finding.pass < 0) return finding.passes;
  return {finding.pass};
}

// The worst stands for all of its kind and place.
void merge_into(std::vector<Finding>& merged, const Finding& next) {
  const auto found = std::find_if(merged.begin(), merged.end(),
                                  [&](const Finding& f) { return same_fault(f, next); });
  if (found == merged.end()) {
    merged.push_back(next);
    return;
  }
  const int affected = found->verses_affected + next.verses_affected;
  std::vector<int> passes = passes_of(*found);
  for (const int pass : passes_of(next)) passes.push_back(pass);
  std::sort(passes.begin(), passes.end());
  passes.erase(std::unique(passes.begin(), passes.end()), passes.end());
  if (next.severity > found->severity) *found = next;
  found->verses_affected = affected;
  found->passes = std::move(passes);
}

}  // namespace

bool surely_beyond(double figure, double tolerance, double uncertainty) {
  return std::abs(figure) - timing::kCoverage * uncertainty > tolerance;
}

std::vector<Finding> ranked(const Review& review, std::vector<Finding> findings) {
  std::vector<Finding> merged;
  for (const Finding& finding : findings) merge_into(merged, finding);
  const int verses = verse_count(review);
  const auto in_most = [verses](const Finding& f) {
    return f.verses_affected > 1 && 2 * f.verses_affected > verses;
  };
  std::stable_sort(merged.begin(), merged.end(), [&](const Finding& a, const Finding& b) {
    if (in_most(a) != in_most(b)) return in_most(a);
    return a.severity > b.severity;
  });
  return merged;
}

std::vector<Finding> find_faults(const Review& review) {
  std::vector<Finding> findings;
  find_speed_faults(review, findings);
  find_join_faults(review, findings);
  find_stop_faults(review, findings);
  find_play_over_faults(review, findings);
  find_limb_faults(review, findings);
  find_release_faults(review, findings);
  find_note_faults(review, findings);
  findings = ranked(review, std::move(findings));
  for (Finding& finding : findings) finding.sentence = sentence(review, finding);
  return findings;
}

}  // namespace loftbeat::practice
