#include "timing/tempo.h"

#include <cmath>

namespace loftbeat::timing {

namespace {

constexpr const char* kTooFew = "too few struck beats";
constexpr std::size_t kLeastIntervals = 4;

void put_trend(const Pulse& pulse, PassSpeed& speed) {
  speed.trend_percent = Measured<double>::unknown(kTooFew);
  speed.trend_uncertainty_percent = Measured<double>::unknown(kTooFew);
  const PulseBeat* first = nullptr;
  const PulseBeat* last = nullptr;
  for (const PulseBeat& b : pulse.beats) {
    if (!b.used) continue;
    if (first == nullptr) first = &b;
    last = &b;
  }
  if (first == nullptr) return;
  const double third = (last->x - first->x) / 3;
  const auto early = slope_between(pulse, first->x, first->x + third);
  const auto late = slope_between(pulse, last->x - third, last->x);
  if (!early || !late || early->pairs < 3 || late->pairs < 3 || late->value <= 0) return;
  speed.trend_percent = 100 * (early->value / late->value - 1);
  speed.trend_uncertainty_percent = 100 * std::hypot(pulse.uncertainty_of(*early) / early->value,
                                                     pulse.uncertainty_of(*late) / late->value);
}

std::vector<double> relative_intervals(const Pulse& pulse) {
  std::vector<double> intervals;
  for (std::size_t i = 1; i < pulse.beats.size(); ++i) {
    const PulseBeat &a = pulse.beats[i - 1], &b = pulse.beats[i];
    if (!a.used || !b.used || a.segment != b.segment) continue;
    intervals.push_back((b.t - a.t) / (b.x - a.x) / ((a.period_s + b.period_s) / 2));
  }
  return intervals;
}

void put_steadiness(const Pulse& pulse, PassSpeed& speed) {
  const std::vector<double> intervals = relative_intervals(pulse);
  speed.steadiness_percent = Measured<double>::unknown(kTooFew);
  speed.steadiness_uncertainty_percent = Measured<double>::unknown(kTooFew);
  if (intervals.size() < kLeastIntervals) return;
  const auto n = static_cast<double>(intervals.size());
  double mean = 0;
  for (double r : intervals) mean += r / n;
  double squares = 0;
  for (double r : intervals) squares += (r - mean) * (r - mean);
  const double percent = 100 * std::sqrt(squares / (n - 1)) / mean;
  speed.steadiness_percent = percent;
  speed.steadiness_uncertainty_percent = percent / std::sqrt(2 * (n - 1));
}

}  // namespace

std::optional<Slope> slope_between(const Pulse& pulse, double from, double to) {
  std::vector<LinePoint> points;
  for (const PulseBeat& b : pulse.beats)
    if (b.used && b.x >= from && b.x <= to) points.push_back({b.x, b.t, b.segment});
  return theil_sen(points);
}

PassSpeed pass_speed(const FittedPass& pass, double set_bpm) {
  PassSpeed speed;
  const Pulse& pulse = pass.pulse;
  if (!pulse.known) {
    speed.tempo_bpm = speed.tempo_uncertainty_percent = Measured<double>::unknown(kTooFew);
    speed.tempo_offset_percent = speed.trend_percent = Measured<double>::unknown(kTooFew);
    speed.trend_uncertainty_percent = Measured<double>::unknown(kTooFew);
    speed.steadiness_percent = Measured<double>::unknown(kTooFew);
    speed.steadiness_uncertainty_percent = Measured<double>::unknown(kTooFew);
    return speed;
  }
  speed.tempo_bpm = 60 / pulse.period_s;
  speed.tempo_uncertainty_percent = 100 * pulse.period_uncertainty() / pulse.period_s;
  speed.tempo_offset_percent = set_bpm > 0
                                   ? Measured<double>(100 * (*speed.tempo_bpm / set_bpm - 1))
                                   : Measured<double>::unknown("no tempo is set");
  put_trend(pulse, speed);
  put_steadiness(pulse, speed);
  return speed;
}

}  // namespace loftbeat::timing
