#pragma once

#include <vector>

#include "base/time.h"

namespace loftbeat::simulate {

// Where the places of one leg fall, in seconds. At a place where time is lost, what ends there and
// what begins there fall apart: a knot has both.
class TimeMap {
 public:
  struct Knot {
    Tick tick = 0;
    double reached = 0;    // without the time that is lost here
    double sound_end = 0;  // until when a note written to end here sounds
    double onset = 0;      // when a note that begins here is struck
  };

  // Ticks must rise.
  void push(const Knot& knot) { knots_.push_back(knot); }

  // Between knots in a straight line; outside them the nearest knot. Requires a knot.
  [[nodiscard]] double onset(Tick tick) const;
  [[nodiscard]] double sound_end(Tick tick) const;

 private:
  [[nodiscard]] double between(Tick tick, double Knot::*at) const;
  std::vector<Knot> knots_;
};

}  // namespace loftbeat::simulate
