#pragma once

#include <vector>

#include "base/time.h"

namespace loftbeat::notate {

// How a player moves about the click, as this model takes it: his tempo strays from the click's and
// comes back (an Ornstein-Uhlenbeck process), his place is its sum. All assumptions.
struct Straying {
  double quarter_s = 0.75;      // of the click
  double tempo_sd = 0.045;      // of quarter_s
  double quarters_kept = 8;     // over which a tempo is kept to 1/e
  double place_sd_s = 0.008;    // a quarter, besides
  double key_sd_s = 0.034;      // of one key about its chord: 30 ms, and 50 ms of spread
  double first_place_sd_s = 0;  // how surely the first chord is known; 0: it is where it is
};

// What is believed at one chord: its time and the tempo there, with their covariance. A Kalman
// filter with two members.
struct Belief {
  double at = 0;       // seconds
  double quarter = 0;  // seconds a quarter
  double var_at = 0, cov = 0, var_quarter = 0;
};

// A chord of `keys` keys heard at their mean `at`.
struct Sighting {
  double at = 0;
  int keys = 1;
};

// The belief so many quarters later. quarters >= 0.
[[nodiscard]] Belief later(const Straying& straying, const Belief& now, double quarters);

// What a sighting costs under a belief: the negative logarithm of its density (per second).
// Never more than it costs to have lost the thread, kSlip above the dearest that is usual.
inline constexpr double kSlip = 14;
struct Seen {
  Belief belief;  // after it
  double cost = 0;
};
[[nodiscard]] Seen see(const Straying& straying, const Belief& before, const Sighting& sighting);

// A chord that has its place in the score.
struct PlacedSighting {
  Tick at = 0;
  Sighting sighting;
};

// When each place of the score was due as the player went, found from all chords together (a
// smoother, both ways). Between chords in straight lines; outside them at the tempo of the ends.
class TimeLine {
 public:
  TimeLine() = default;
  // Sorted by place, each place once; may be empty.
  TimeLine(const Straying& straying, const std::vector<PlacedSighting>& chords);

  [[nodiscard]] double seconds_at(Tick at) const;
  [[nodiscard]] Tick tick_at(double seconds) const;
  // The smoothed variance (s²) of a chord's time.
  [[nodiscard]] double variance(std::size_t chord) const { return knots_[chord].variance; }

 private:
  struct Knot {
    Tick tick = 0;
    double at = 0;
    double quarter = 0;
    double variance = 0;
  };
  std::vector<Knot> knots_;
  double quarter_s_ = 0.75;
};

}  // namespace loftbeat::notate
