#include "crowd/keeping_together.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loftbeat::crowd {
namespace {

double over_beats(double gain, double beats) { return 1 - std::pow(1 - gain, beats); }

}  // namespace

KeepingTogether::KeepingTogether(Gains gains, std::vector<double> places, std::size_t first,
                                 double entry_s, double period_s)
    : gains_(gains),
      places_(std::move(places)),
      times_(places_.size(), 0),
      corrections_(places_.size(), 0),
      breaths_(places_.size(), 0),
      first_(first),
      at_(first),
      period_s_(period_s) {
  times_[first] = entry_s;
  plan_next(entry_s);
}

double KeepingTogether::beats_after(std::size_t knot) const {
  return knot + 1 < places_.size() ? places_[knot + 1] - places_[knot] : 1.0;
}

double KeepingTogether::step_from(std::size_t knot) const {
  const double breath = knot + 1 < breaths_.size() ? breaths_[knot + 1] : 0;
  const double own = (beats_after(knot) + breath) * period_s_;
  return std::clamp((1 + gains_.reluctance) * own - corrections_[knot], own / 2, own * 2);
}

void KeepingTogether::plan_next(double not_before_s) {
  next_s_ = ended() ? std::numeric_limits<double>::infinity()
                    : std::max(times_[at_] + step_from(at_), not_before_s);
}

void KeepingTogether::expect_breath(std::size_t knot, double beats) {
  if (knot > at_ + 1 && knot < breaths_.size()) breaths_[knot] = beats;
}

void KeepingTogether::hear(std::size_t knot, double at_s, double phase, double not_before_s) {
  if (knot < first_ || knot >= places_.size()) return;
  if (heard_ != kNone && knot > heard_ && at_s > heard_s_) {
    const double beats = places_[knot] - places_[heard_];
    period_s_ += over_beats(gains_.period, beats) * ((at_s - heard_s_) / beats - period_s_);
  }
  heard_ = knot;
  heard_s_ = at_s;
  asynchrony_s_ = time_of_knot(knot) - at_s;
  const std::size_t mended = std::max(knot, at_);
  corrections_[mended] += over_beats(phase, beats_after(mended)) * asynchrony_s_;
  if (knot <= at_) plan_next(not_before_s);
}

void KeepingTogether::pass(double off_s) {
  if (ended()) return;
  ++at_;
  times_[at_] = std::max(next_s_ + off_s, times_[at_ - 1]);
  plan_next(times_[at_]);
}

void KeepingTogether::resume(double at_s) {
  if (!ended()) next_s_ = std::max(at_s, times_[at_]);
}

double KeepingTogether::time_of_knot(std::size_t knot) const {
  if (knot <= at_) return times_[knot];
  double time = next_s_;
  for (std::size_t i = at_ + 1; i < knot; ++i) time += step_from(i);
  return time;
}

double KeepingTogether::time_of(double place) const {
  const auto after = std::upper_bound(places_.begin(), places_.end(), place);
  const auto knot = static_cast<std::size_t>(
      std::max<std::ptrdiff_t>(after - places_.begin() - 1, static_cast<std::ptrdiff_t>(first_)));
  const double from = time_of_knot(knot);
  const double share = (place - places_[knot]) / beats_after(knot);
  const double to = knot + 1 < places_.size() ? time_of_knot(knot + 1)
                                              : from + (1 + gains_.reluctance) * period_s_;
  return from + share * (to - from);
}

double KeepingTogether::place_at(double at_s) const {
  std::size_t knot = at_;
  while (knot > first_ && times_[knot] > at_s) --knot;
  while (knot + 1 < places_.size() && time_of_knot(knot + 1) <= at_s) ++knot;
  const double from = time_of_knot(knot);
  const double to = knot + 1 < places_.size() ? time_of_knot(knot + 1)
                                              : from + (1 + gains_.reluctance) * period_s_;
  return places_[knot] + beats_after(knot) * (at_s - from) / std::max(to - from, 1e-9);
}

}  // namespace loftbeat::crowd
