#include "timing/pulse.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "timing/cuts.h"
#include "timing/tolerances.h"

namespace loftbeat::timing {

namespace {

// An interruption stands out of the local intervals by this much: by a share of the interval (of a
// beat at least), and by so many of their spreads.
constexpr double kInterruptionShare = 0.25;
constexpr double kInterruptionSpreads = 4;

std::vector<PulseBeat> struck_beats(const PulseQuestion& q) {
  std::vector<PulseBeat> beats;
  for (const GridBeat& g : q.grid)
    if (g.struck) beats.push_back({g.x, *g.t, g.tick, 0, true, 0, 0, 0});
  return beats;
}

void mark_unused(const PulseQuestion& q, std::vector<PulseBeat>& beats) {
  const double from = first_full_bar(q.score, q.way).value_or(0);
  const auto broad = planned_broadening(q.route, q.pass, q.way);
  for (PulseBeat& b : beats) b.used = b.x >= from && (!broad || b.x <= broad->from);
  for (const HeldStretch& held : held_stretches(q)) {
    auto b = std::partition_point(beats.begin(), beats.end(),
                                  [&](const PulseBeat& p) { return p.x <= held.from; });
    for (; b != beats.end() && b->x < held.until; ++b) b->used = false;
  }
}

void number_segments(const std::vector<Cut>& cuts, std::vector<PulseBeat>& beats) {
  std::size_t next = 0;
  for (PulseBeat& b : beats) {
    while (next < cuts.size() && cuts[next].x <= b.x) ++next;
    b.segment = static_cast<int>(next);
  }
}

std::vector<LinePoint> used_points(const std::vector<PulseBeat>& beats) {
  std::vector<LinePoint> points;
  for (const PulseBeat& b : beats)
    if (b.used) points.push_back({b.x, b.t, b.segment});
  return points;
}

// The window of at most `kPulseWindow` points round the place `x`, moved inwards at the ends.
std::span<const LinePoint> window(const std::vector<LinePoint>& points, double x) {
  const std::size_t size = std::min(points.size(), kPulseWindow);
  const auto at = std::partition_point(points.begin(), points.end(),
                                       [x](const LinePoint& p) { return p.x < x; });
  const auto centre = static_cast<std::size_t>(at - points.begin());
  const std::size_t begin =
      std::min(centre - std::min(centre, kPulseWindow / 2), points.size() - size);
  return std::span<const LinePoint>(points).subspan(begin, size);
}

// Intervals between neighbouring used beats of one segment, seconds a beat.
struct Interval {
  std::size_t after = 0;  // index of the later beat
  double length = 0;      // beats
  double period = 0;      // seconds a beat
};

std::vector<Interval> segment_intervals(const std::vector<PulseBeat>& beats) {
  std::vector<Interval> intervals;
  for (std::size_t i = 1; i < beats.size(); ++i) {
    const PulseBeat &a = beats[i - 1], &b = beats[i];
    if (a.used && b.used && a.segment == b.segment)
      intervals.push_back({i, b.x - a.x, (b.t - a.t) / (b.x - a.x)});
  }
  return intervals;
}

std::vector<double> periods_near(const std::vector<Interval>& intervals, std::size_t i) {
  const std::size_t size = std::min(intervals.size(), kPulseWindow);
  const std::size_t begin = std::min(i - std::min(i, kPulseWindow / 2), intervals.size() - size);
  std::vector<double> near;
  for (std::size_t k = begin; k < begin + size; ++k) near.push_back(intervals[k].period);
  return near;
}

// Adds a cut before each beat that came late (or early) beyond all likelihood.
void add_interruptions(const std::vector<PulseBeat>& beats, std::vector<Cut>& cuts) {
  const std::vector<Interval> intervals = segment_intervals(beats);
  for (std::size_t i = 0; i < intervals.size(); ++i) {
    const std::vector<double> near = periods_near(intervals, i);
    const double usual = median(near);
    const double excess = std::abs(intervals[i].period - usual) * intervals[i].length;
    const double spread = robust_spread(near, usual) * intervals[i].length;
    const double least = kInterruptionShare * usual * std::max(1.0, intervals[i].length);
    if (excess < least || excess < kInterruptionSpreads * spread) continue;
    const PulseBeat& beat = beats[intervals[i].after];
    cuts.push_back({beat.x, beat.tick, CutKind::interruption, 0, std::nullopt, 0});
  }
  std::stable_sort(cuts.begin(), cuts.end(), [](const Cut& a, const Cut& b) { return a.x < b.x; });
}

void put_periods(const std::vector<LinePoint>& points, const Slope& whole,
                 std::vector<PulseBeat>& beats) {
  for (PulseBeat& b : beats) {
    const auto local = theil_sen(window(points, b.x));
    const Slope& slope = local && local->value > 0 ? *local : whole;
    b.period_s = slope.value;
    b.period_leverage = slope.leverage;
  }
}

// Up to kStepBeats used beats of one segment that end before (or begin from) the cut at `x`.
std::vector<PulseBeat> beats_before(const std::vector<PulseBeat>& beats, std::size_t cut) {
  std::vector<PulseBeat> side;
  for (std::size_t i = cut; i > 0 && side.size() < kStepBeats; --i) {
    const PulseBeat& b = beats[i - 1];
    if (!side.empty() && b.segment != side.front().segment) break;
    if (b.used) side.push_back(b);
  }
  return side;
}

std::vector<PulseBeat> beats_after(const std::vector<PulseBeat>& beats, std::size_t cut) {
  std::vector<PulseBeat> side;
  for (std::size_t i = cut; i < beats.size() && side.size() < kStepBeats; ++i) {
    const PulseBeat& b = beats[i];
    if (!side.empty() && b.segment != side.front().segment) break;
    if (b.used) side.push_back(b);
  }
  return side;
}

// Hodges-Lehmann: the median over all pairs across the cut of the time that the pulse leaves over.
void measure_cut(const std::vector<PulseBeat>& beats, Cut& cut) {
  const auto at = std::partition_point(beats.begin(), beats.end(),
                                       [&](const PulseBeat& b) { return b.x < cut.x; });
  const auto index = static_cast<std::size_t>(at - beats.begin());
  const auto before = beats_before(beats, index);
  const auto after = beats_after(beats, index);
  if (before.empty() || after.empty()) return;
  const double period = (before.front().period_s + after.front().period_s) / 2;
  std::vector<double> excess;
  for (const PulseBeat& a : before)
    for (const PulseBeat& b : after) excess.push_back(b.t - a.t - period * (b.x - a.x));
  cut.extra_s = median(std::move(excess));
  cut.leverage =
      std::sqrt(1.0 / static_cast<double>(before.size()) + 1.0 / static_cast<double>(after.size()));
}

// Time added up to each beat: the pulse's line is straightened by it.
std::vector<double> time_added(const std::vector<Cut>& cuts, const std::vector<PulseBeat>& beats) {
  std::vector<double> added(beats.size(), 0);
  double sum = 0;
  std::size_t next = 0;
  for (std::size_t i = 0; i < beats.size(); ++i) {
    for (; next < cuts.size() && cuts[next].x <= beats[i].x; ++next)
      sum += cuts[next].extra_s.value_or(0);
    added[i] = sum;
  }
  return added;
}

void put_levels(const std::vector<double>& added, std::vector<PulseBeat>& beats) {
  std::vector<LinePoint> straight;
  for (std::size_t i = 0; i < beats.size(); ++i)
    if (beats[i].used) straight.push_back({beats[i].x, beats[i].t - added[i], 0});
  for (std::size_t i = 0; i < beats.size(); ++i) {
    std::vector<double> levels;
    for (const LinePoint& p : window(straight, beats[i].x))
      levels.push_back(p.t - beats[i].period_s * (p.x - beats[i].x));
    beats[i].pulse_t = midmean(std::move(levels)) + added[i];
  }
}

// Each window has a slope of its own, each measured cut a level: so much freedom is used up.
double jitter(const Pulse& pulse) {
  std::vector<double> distances;
  for (const PulseBeat& b : pulse.beats)
    if (b.used) distances.push_back(b.t - b.pulse_t);
  const auto n = static_cast<double>(distances.size());
  const auto levels = static_cast<double>(
      std::count_if(pulse.cuts.begin(), pulse.cuts.end(), [](const Cut& c) { return c.extra_s; }));
  const double slopes = std::ceil(n / static_cast<double>(kPulseWindow));
  return robust_spread(distances, 0) * std::sqrt(n / std::max(1.0, n - 1 - slopes - levels));
}

const PulseBeat& nearest(const std::vector<PulseBeat>& beats, double x) {
  auto at =
      std::partition_point(beats.begin(), beats.end(), [x](const PulseBeat& b) { return b.x < x; });
  if (at == beats.end()) return beats.back();
  if (at != beats.begin() && x - std::prev(at)->x < at->x - x) --at;
  return *at;
}

}  // namespace

double Pulse::period_at(double x) const {
  assert(known);
  return nearest(beats, x).period_s;
}

double Pulse::period_uncertainty_at(double x) const {
  assert(known);
  return nearest(beats, x).period_leverage * jitter_s;
}

double Pulse::period_uncertainty() const { return period_leverage * std::max(scatter_s, jitter_s); }

double Pulse::uncertainty_of(const Slope& slope) const {
  return slope.leverage * std::max(slope.scatter, jitter_s);
}

double Pulse::time_at(double x) const {
  assert(known);
  const PulseBeat& beat = nearest(beats, x);
  return beat.pulse_t + beat.period_s * (x - beat.x);
}

std::optional<BroadeningOnWay> planned_broadening(const plan::Route& route,
                                                  const follow::AlignedPass& pass,
                                                  const PassWay& way) {
  if (pass.route_pass < 0) return std::nullopt;
  const auto& planned = route.passes[static_cast<std::size_t>(pass.route_pass)];
  if (!planned.broaden_from || planned.broaden_percent <= 0) return std::nullopt;
  const auto from = way.place_of(*planned.broaden_from);
  if (!from) return std::nullopt;
  return BroadeningOnWay{*from, 100 / planned.broaden_percent};
}

Pulse find_pulse(const PulseQuestion& question) {
  Pulse pulse;
  pulse.beats = struck_beats(question);
  pulse.cuts = planned_cuts(question);
  mark_unused(question, pulse.beats);
  number_segments(pulse.cuts, pulse.beats);
  add_interruptions(pulse.beats, pulse.cuts);
  number_segments(pulse.cuts, pulse.beats);
  const std::vector<LinePoint> points = used_points(pulse.beats);
  const auto whole = theil_sen(points);
  if (!whole || points.size() < 3 || whole->value <= 0) return pulse;
  pulse.known = true;
  pulse.period_s = whole->value;
  pulse.period_leverage = whole->leverage;
  pulse.scatter_s = whole->scatter;
  put_periods(points, *whole, pulse.beats);
  for (Cut& cut : pulse.cuts) measure_cut(pulse.beats, cut);
  put_levels(time_added(pulse.cuts, pulse.beats), pulse.beats);
  pulse.jitter_s = jitter(pulse);
  return pulse;
}

}  // namespace loftbeat::timing
