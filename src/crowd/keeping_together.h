#pragma once

#include <cstddef>
#include <limits>
#include <vector>

namespace loftbeat::crowd {

// How people keep together with an organ that they hear: linear correction of phase and period,
// beat by beat. Pure: no clock, no chance. All times in seconds on one clock, places in beats.
//
// People pass the beats at c(k) and hear the organ's at h(k) = p(k) + d, d being the way of the
// sound. With the asynchrony A(k) = c(k) - h(k), positive = people late,
//
//   c(k+1) = c(k) + (1 + r) T(k) - a A(k)
//   T(k+1) = T(k) + b (I(k) - T(k)),   I(k) = h(k+1) - h(k)
//
// r reluctance: people's own beats are that much longer than those that they hear; a correction
// of phase (0 to 1); b correction of the period (0 to 1). Knots x beats apart instead of one: the
// step is x (1 + r) T, and a and b become 1 - (1 - a)^x and 1 - (1 - b)^x, so that it comes to the
// same how densely they lie. A breath expected before a knot adds its beats to x of the step. A
// step is held within half and twice x T: nobody sings faster.
//
// Sources, all from memory: the linear phase correction is Vorberg and Wing's (1996) and Vorberg
// and Schulze's (2002); correcting the period by the interval heard is Mates's (1994). (Schulze,
// Cordes and Vorberg 2005 correct the period by A instead. That sums A up until none is left: no
// reluctance could be heard against a steady organ, which is not what organists tell.) In
// ensembles a is best at 0.25 (Wing et al. 2014). The reluctance is an addition of ours.
//
// What follows, worked by hand:
// - A steady organ of period P: T = P, and c keeps step when a A = r P: A settles at r P / a.
//   80 a minute (P = 0.75 s), r = 0.04, a = 0.35: 85.7 ms; a = 0.1: 300 ms. With r = 0: 0, and the
//   player hears people late by 2 d alone.
// - An organ that falls on each of the people's beats (h = c, A = 0): I(k) = (1 + r) T(k), so
//   T(k+1) = (1 + r b) T(k): both slow down for ever, by r b a beat. r = 0.04, b = 0.3: 1.2 % a
//   beat, a third within 24 beats.
class KeepingTogether {
 public:
  struct Gains {
    double reluctance = 0;  // r, 0 to 0.08
    double period = 0.3;    // b
  };

  // Begins at knot `first`, which people pass at `entry_s`. `places` are all knots, rising.
  KeepingTogether(Gains gains, std::vector<double> places, std::size_t first, double entry_s,
                  double period_s);

  // The organ was heard at a knot (from `first` on). `phase` is a, `before` the knot heard before
  // it in this run of knots. Changes nothing that lies before `not_before_s`.
  void hear(std::size_t knot, double at_s, double phase, double not_before_s);
  // A breath lies before this knot: the step that ends there takes so many beats more.
  void expect_breath(std::size_t knot, double beats);
  // No interval is taken from the last knot heard to the next: a breath or a hold lies between.
  void broken() { heard_ = kNone; }
  // People pass the next knot, early or late by `off_s` against what the equations say; that
  // changes when they pass it and all that follows.
  void pass(double off_s);
  // After waiting: the next knot will be passed at `at_s` whatever was said before.
  void resume(double at_s);

  [[nodiscard]] std::size_t passed() const { return at_; }  // the last knot passed
  [[nodiscard]] bool ended() const { return at_ + 1 >= places_.size(); }
  [[nodiscard]] double next_s() const { return next_s_; }      // infinite if ended
  [[nodiscard]] double period_s() const { return period_s_; }  // T, seconds a beat
  // When people pass a knot: as it was, or as it now looks.
  [[nodiscard]] double time_of_knot(std::size_t knot) const;
  // The same of any place from `first` on; beyond the last knot at (1 + r) T a beat.
  [[nodiscard]] double time_of(double place) const;
  // Where they are or will be.
  [[nodiscard]] double place_at(double at_s) const;
  // A of the last knot heard.
  [[nodiscard]] double asynchrony_s() const { return asynchrony_s_; }

 private:
  static constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();
  void plan_next(double not_before_s);
  [[nodiscard]] double beats_after(std::size_t knot) const;
  [[nodiscard]] double step_from(std::size_t knot) const;

  Gains gains_;
  std::vector<double> places_;
  std::vector<double> times_;        // of knots passed
  std::vector<double> corrections_;  // a A, by knot: shortens the step that begins there
  std::vector<double> breaths_;      // beats, by knot: lengthen the step that ends there
  std::size_t first_;
  std::size_t at_;
  double next_s_ = 0;
  double period_s_;
  double asynchrony_s_ = 0;
  std::size_t heard_ = kNone;
  double heard_s_ = 0;
};

}  // namespace loftbeat::crowd
