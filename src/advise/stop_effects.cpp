#include "advise/stop_effects.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::advise {
namespace {

// The power of each stop by itself on the keys played.
std::vector<Power> powers_alone(const Scene& scene, const organ::Registration& drawn) {
  const std::vector<Power> gains = box_gains(*scene.organ, drawn);
  std::vector<Power> alone;
  for (std::size_t s = 0; s < scene.organ->stops.size(); ++s) {
    const Power& gain = gains[scene.organ->stops[s].division];
    alone.push_back(stop_power(*scene.organ, *scene.powers, s, scene.sounding, gain));
  }
  return alone;
}

bool is_drawn(const organ::Registration& drawn, std::size_t stop) {
  return std::binary_search(drawn.stops.begin(), drawn.stops.end(), stop);
}

bool speaks(const Power& power) {
  return std::any_of(power.begin(), power.end(), [](double p) { return p > 0; });
}

// Sum without what takes part in the change: taking one power from a sum would leave rounding.
Power sum_without(const std::vector<Power>& alone, const organ::Registration& drawn,
                  std::size_t left_out) {
  Power sum{};
  for (const std::size_t stop : drawn.stops) {
    if (stop != left_out) add(sum, alone[stop]);
  }
  return sum;
}

double size_of(const Change& change) { return change.acum ? std::abs(*change.acum) : -1; }

Swap::Kind kind_of(const organ::Stop& out, const organ::Stop& in) {
  const auto either = [&](organ::Family family) {
    return out.family == family || in.family == family;
  };
  if (either(organ::Family::reed)) return Swap::Kind::reed;
  const bool string = either(organ::Family::string) || either(organ::Family::celeste);
  return string ? Swap::Kind::string : Swap::Kind::flue;
}

}  // namespace

Change change_between(const Heard& before, const Heard& after) {
  Change change;
  change.sone = after.sone - before.sone;
  if (before.sharpness_acum && after.sharpness_acum) {
    change.acum = *after.sharpness_acum - *before.sharpness_acum;
  }
  change.lead_sone = after.over.lead_sone - before.over.lead_sone;
  change.support_sone = after.over.support_sone - before.over.support_sone;
  return change;
}

std::vector<StopEffect> stop_effects(const Scene& scene, const organ::Registration& drawn) {
  const std::vector<Power> alone = powers_alone(scene, drawn);
  const std::size_t none = alone.size();
  const Power whole = sum_without(alone, drawn, none);
  const Heard now = heard(*scene.hall, whole, scene.sung);
  std::vector<StopEffect> effects;
  for (std::size_t s = 0; s < alone.size(); ++s) {
    if (!speaks(alone[s])) continue;
    const bool out = is_drawn(drawn, s);
    Power after = out ? sum_without(alone, drawn, s) : whole;
    if (!out) add(after, alone[s]);
    effects.push_back({s, out ? StopEffect::Move::push_in : StopEffect::Move::draw,
                       change_between(now, heard(*scene.hall, after, scene.sung))});
  }
  std::stable_sort(effects.begin(), effects.end(), [](const StopEffect& a, const StopEffect& b) {
    return size_of(a.change) > size_of(b.change);
  });
  return effects;
}

std::vector<Swap> swaps_at_8_foot(const Scene& scene, const organ::Registration& drawn) {
  const std::vector<Power> alone = powers_alone(scene, drawn);
  const auto at_8_foot = [&](std::size_t stop) {
    return std::abs(scene.organ->stops[stop].feet - 8) < 1e-6 && speaks(alone[stop]);
  };
  const Heard now = heard(*scene.hall, sum_without(alone, drawn, alone.size()), scene.sung);
  std::vector<Swap> swaps;
  for (const std::size_t out : drawn.stops) {
    if (!at_8_foot(out)) continue;
    const organ::Stop& leaving = scene.organ->stops[out];
    for (std::size_t in = 0; in < alone.size(); ++in) {
      const organ::Stop& coming = scene.organ->stops[in];
      if (coming.division != leaving.division || is_drawn(drawn, in) || !at_8_foot(in)) continue;
      Power after = sum_without(alone, drawn, out);
      add(after, alone[in]);
      swaps.push_back({out, in, kind_of(leaving, coming),
                       change_between(now, heard(*scene.hall, after, scene.sung))});
    }
  }
  std::stable_sort(swaps.begin(), swaps.end(), [](const Swap& a, const Swap& b) {
    return size_of(a.change) < size_of(b.change);
  });
  return swaps;
}

bool is_upper_work(const organ::Stop& stop) {
  return stop.family == organ::Family::mixture || stop.feet < 4.0 + 1e-6;
}

}  // namespace loftbeat::advise
