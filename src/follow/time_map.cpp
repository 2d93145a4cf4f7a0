#include "follow/time_map.h"

#include <algorithm>

namespace loftbeat::follow {

TimeMap::TimeMap(std::vector<Point> points, double ns_per_tick) : ns_per_tick_(ns_per_tick) {
  points_.reserve(points.size());
  for (const Point& point : points) {
    // Two points against each other: the heavier one stays.
    while (!points_.empty() && point.ns <= points_.back().ns &&
           points_.back().weight < point.weight) {
      points_.pop_back();
    }
    if (points_.empty() || point.ns > points_.back().ns) points_.push_back(point);
  }
}

double TimeMap::between(std::size_t a, std::size_t b, Tick tick) const {
  const double share = static_cast<double>(tick - points_[a].tick) /
                       static_cast<double>(points_[b].tick - points_[a].tick);
  return points_[a].ns + share * (points_[b].ns - points_[a].ns);
}

double TimeMap::speed(Tick tick) const {
  if (points_.size() < 2) return ns_per_tick_;
  auto it = std::lower_bound(points_.begin(), points_.end(), tick,
                             [](const Point& p, Tick t) { return p.tick < t; });
  auto b = static_cast<std::size_t>(it - points_.begin());
  b = std::clamp<std::size_t>(b, 1, points_.size() - 1);
  // Over at least about a quarter, so that one uneven quaver does not set the speed.
  std::size_t a = b - 1;
  while (points_[b].tick - points_[a].tick < kTicksPerQuarter) {
    if (a > 0 && (b + 1 >= points_.size() || tick - points_[a].tick <= points_[b].tick - tick)) {
      --a;
    } else if (b + 1 < points_.size()) {
      ++b;
    } else {
      break;
    }
  }
  return (points_[b].ns - points_[a].ns) / static_cast<double>(points_[b].tick - points_[a].tick);
}

double TimeMap::at(Tick tick) const {
  if (points_.empty()) return static_cast<double>(tick) * ns_per_tick_;
  if (tick <= points_.front().tick) {
    return points_.front().ns -
           static_cast<double>(points_.front().tick - tick) * speed(points_.front().tick);
  }
  if (tick >= points_.back().tick) {
    return points_.back().ns +
           static_cast<double>(tick - points_.back().tick) * speed(points_.back().tick);
  }
  auto it = std::lower_bound(points_.begin(), points_.end(), tick,
                             [](const Point& p, Tick t) { return p.tick < t; });
  const auto b = static_cast<std::size_t>(it - points_.begin());
  return between(b - 1, b, tick);
}

double TimeMap::tempered(Tick tick) const {
  auto it = std::lower_bound(points_.begin(), points_.end(), tick,
                             [](const Point& p, Tick t) { return p.tick < t; });
  const auto i = static_cast<std::size_t>(it - points_.begin());
  if (i >= points_.size() || points_[i].tick != tick || i == 0 || i + 1 >= points_.size()) {
    return at(tick);
  }
  const double others = between(i - 1, i + 1, tick);
  const double own = points_[i].weight;
  return (own * points_[i].ns + others) / (own + 1);
}

}  // namespace loftbeat::follow
