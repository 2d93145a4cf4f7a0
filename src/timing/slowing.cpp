#include "timing/slowing.h"

#include <algorithm>
#include <cmath>

#include "timing/tempo.h"
#include "timing/tolerances.h"

namespace loftbeat::timing {

namespace {

struct UsedRange {
  double first = 0;
  double last = 0;
};

std::optional<UsedRange> used_range(const Pulse& pulse) {
  std::optional<UsedRange> range;
  for (const PulseBeat& b : pulse.beats) {
    if (!b.used) continue;
    if (!range) range = UsedRange{b.x, b.x};
    range->last = b.x;
  }
  return range;
}

KnownPeriod average(const KnownPeriod& a, const KnownPeriod& b) {
  const double wa = 1 / (a.uncertainty_s * a.uncertainty_s);
  const double wb = 1 / (b.uncertainty_s * b.uncertainty_s);
  return {(wa * a.period_s + wb * b.period_s) / (wa + wb), 1 / std::sqrt(wa + wb)};
}

// The period before the end; nothing if neither the pass nor the next verse tells.
std::optional<KnownPeriod> period_before(const Pulse& pulse, double from,
                                         const std::optional<KnownPeriod>& next_verse) {
  const auto own = slope_between(pulse, from - kBeforeEndBeats, from);
  if (!own) return next_verse;
  const KnownPeriod known{own->value, own->leverage * pulse.usual_jitter_s};
  if (!next_verse || known.uncertainty_s <= 0 || next_verse->uncertainty_s <= 0) return known;
  return average(known, *next_verse);
}

}  // namespace

double EndSlowing::slowest_factor() const { return std::max(1.0, 1 + 2 * (end_s / before_s - 1)); }

std::optional<EndSlowing> end_slowing(const Pulse& pulse,
                                      const std::optional<KnownPeriod>& next_verse) {
  const auto range = used_range(pulse);
  if (!pulse.known || !range) return std::nullopt;
  const double half = std::ceil((range->last - range->first) / 2);
  EndSlowing out;
  out.from = range->last - std::clamp(half, 2.0, kEndBeats);
  const auto before = period_before(pulse, out.from, next_verse);
  const auto end = slope_between(pulse, out.from, range->last);
  if (!before || !end || end->value <= 0 || before->period_s <= 0) return std::nullopt;
  out.before_s = before->period_s;
  out.before_uncertainty_s = before->uncertainty_s;
  out.end_s = end->value;
  out.percent = 100 * (1 - out.before_s / out.end_s);
  out.uncertainty_percent = 100 * std::hypot(before->uncertainty_s / before->period_s,
                                             end->leverage * pulse.usual_jitter_s / end->value);
  return out;
}

bool surely_slows(const EndSlowing& slowing, double tolerance_percent) {
  return slowing.percent - kCoverage * slowing.uncertainty_percent > tolerance_percent;
}

}  // namespace loftbeat::timing
