#include "notate/metrical.h"

namespace loftbeat::notate {
namespace {

constexpr double kBar = 0.5;
constexpr double kBeat = 0.5;
constexpr double kHalf = 1.4;
constexpr double kQuarter = 4.0;
constexpr double kThird = 5.5;
constexpr double kThirdGoesOn = 0.7;    // the second third after the first
constexpr double kQuarterGoesOn = 1.0;  // a quarter that follows one
constexpr double kAcross = 1.2;         // a note from a half of a beat over the next beat
constexpr double kLongPerBeat = 0.25;   // each beat of a note after the second

}  // namespace

Metrical::Metrical(const Setting& setting)
    : bar_(bar_length(setting)),
      beat_(beat_length(setting)),
      upbeat_(setting.upbeat),
      half_(is_compound(setting) ? beat_ / 3 : beat_ / 2) {}

Metrical::Depth Metrical::depth(Tick at) const {
  Tick in_bar = (at - upbeat_) % bar_;
  if (in_bar < 0) in_bar += bar_;
  if (in_bar == 0) return Depth::bar;
  if (in_bar % beat_ == 0) return Depth::beat;
  if (in_bar % half_ == 0) return Depth::half;
  if (in_bar % half_ * 2 == half_) return Depth::quarter;
  if (half_ * 2 == beat_ && in_bar % beat_ * 3 % beat_ == 0) return Depth::third;
  return Depth::none;
}

double Metrical::step_cost(Tick at, Tick next) const {
  const Depth from = depth(at);
  const Depth to = depth(next);
  double cost = 0;
  switch (to) {
    case Depth::bar: cost = kBar; break;
    case Depth::beat: cost = kBeat; break;
    case Depth::half: cost = kHalf; break;
    case Depth::quarter: cost = from == Depth::quarter ? kQuarterGoesOn : kQuarter; break;
    case Depth::third: cost = from == Depth::third ? kThirdGoesOn : kThird; break;
    case Depth::none: cost = 50; break;
  }
  const Tick length = next - at;
  // Thirds of a beat come in threes, quarters lead to the next half.
  if (from == Depth::third && to != Depth::third && length > beat_ / 3) cost += kThird;
  if (from == Depth::quarter && length > half_ / 2) cost += kQuarter / 2;
  if (from == Depth::half && length > half_) cost += kAcross;
  const double beats = static_cast<double>(length) / static_cast<double>(beat_);
  if (beats > 2) cost += kLongPerBeat * (beats - 2);
  return cost;
}

}  // namespace loftbeat::notate
