#include "window/prepare/tempo_tap.h"

#include <algorithm>

namespace loftbeat::window {

std::optional<double> TempoTap::tap(double at_s) {
  constexpr std::size_t kMostTaps = 9;
  if (!taps_.empty() && at_s - taps_.back() > kForgetSeconds) taps_.clear();
  taps_.push_back(at_s);
  if (taps_.size() > kMostTaps) taps_.erase(taps_.begin());
  if (taps_.size() < 3) return std::nullopt;
  std::vector<double> intervals;
  for (std::size_t i = 1; i < taps_.size(); ++i) intervals.push_back(taps_[i] - taps_[i - 1]);
  std::sort(intervals.begin(), intervals.end());
  const std::size_t middle = intervals.size() / 2;
  const double median = intervals.size() % 2 == 1 ? intervals[middle]
                                                  : (intervals[middle - 1] + intervals[middle]) / 2;
  if (median <= 0) return std::nullopt;
  return 60 / median;
}

}  // namespace loftbeat::window
