#pragma once

#include <optional>

namespace loftbeat::crowd {

// How firmly a player plays, 0 to 1, as those who follow can tell.
//
// Beats: the steps of one interval to the next, e = (I(k) - I(k-1)) / sqrt 2 over the period; its
// mean square v forgets with v += (e^2 - v) / 8, and s = sqrt v. A steady or evenly slowing player
// has s = 0; one whose intervals scatter independently by 2 % has s = 2 %. Firmness of beats is
// 1 / (1 + (s / 5 %)^2): 0.86 at 2 %, 0.5 at 5 %, 0.28 at 8 %. (Trained musicians' intervals
// scatter by 2 to 4 %, others' by 3 to 6 %: Repp 2005, from memory. The curve is an assumption.)
//
// Touch: the share of releases that are clear (not smeared into the next chord), forgotten the same
// way over 16; wholly smeared playing halves the firmness (assumed). It begins as clear.
class Firmness {
 public:
  // An interval between beats, seconds a beat. Beyond half or twice the one before it is a pause or
  // a jump: it is left out, and no step is taken across it.
  void interval(double seconds_a_beat);
  // The line of intervals is broken (a join, a hold).
  void broken() { last_.reset(); }
  enum class Touch { clear, smeared };
  void release(Touch touch);

  [[nodiscard]] double scatter() const;  // s, a share of the beat
  [[nodiscard]] double value() const;

 private:
  std::optional<double> last_;
  double mean_square_ = 0;
  double clear_ = 1;
};

}  // namespace loftbeat::crowd
