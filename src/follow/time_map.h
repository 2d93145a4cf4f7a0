#pragma once

#include <vector>

#include "follow/onset_table.h"

namespace loftbeat::follow {

// When each place of the score was played within one stretch: straight lines between known
// points, going on at the speed of the nearest quarter or so beyond both ends. Times rise with
// ticks.
class TimeMap {
 public:
  struct Point {
    Tick tick = 0;
    double ns = 0;
    double weight = 1;  // how much its own time counts against its neighbours'
  };
  // Points by rising tick. Points that run against time are left out. `ns_per_tick` serves where
  // fewer than two points are known.
  TimeMap(std::vector<Point> points, double ns_per_tick);

  // Expected time of a tick, ns from the start of the take.
  [[nodiscard]] double at(Tick tick) const;
  // The same without trusting what was heard at the tick itself: a mean of its own time (by
  // weight) and what its neighbours say (weight 1).
  [[nodiscard]] double tempered(Tick tick) const;
  // Local speed, ns a tick, > 0.
  [[nodiscard]] double speed(Tick tick) const;
  [[nodiscard]] bool empty() const { return points_.empty(); }

 private:
  [[nodiscard]] double between(std::size_t a, std::size_t b, Tick tick) const;
  std::vector<Point> points_;
  double ns_per_tick_;
};

}  // namespace loftbeat::follow
