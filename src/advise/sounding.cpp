#include "advise/sounding.h"

#include <algorithm>
#include <map>
#include <utility>

namespace loftbeat::advise {
namespace {

using organ::Speaking;

bool before(const Speaking& a, const Speaking& b) {
  return std::pair(a.division, a.key) < std::pair(b.division, b.key);
}

// What speaks while `pressed` are down, each once, sorted.
std::vector<Speaking> all_speaking(const organ::Organ& organ, const organ::Registration& drawn,
                                   std::span<const Speaking> pressed) {
  std::vector<Speaking> all;
  for (const Speaking& key : pressed) {
    for (const Speaking& one : organ::coupled(organ, drawn, key)) all.push_back(one);
  }
  std::sort(all.begin(), all.end(), before);
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

struct Edge {
  double at_s;
  Speaking key;
  int change;  // +1 down, -1 up
};

std::vector<Edge> edges_of(std::span<const KeySpan> keys) {
  std::vector<Edge> edges;
  for (const KeySpan& span : keys) {
    if (!(span.off_s > span.on_s)) continue;
    edges.push_back({span.on_s, span.pressed, 1});
    edges.push_back({span.off_s, span.pressed, -1});
  }
  std::sort(edges.begin(), edges.end(),
            [](const Edge& a, const Edge& b) { return a.at_s < b.at_s; });
  return edges;
}

}  // namespace

std::vector<Sounding> sounding_chord(const organ::Organ& organ, const organ::Registration& drawn,
                                     std::span<const Speaking> pressed) {
  std::vector<Sounding> chord;
  for (const Speaking& one : all_speaking(organ, drawn, pressed)) chord.push_back({one, 1});
  return chord;
}

std::vector<Sounding> mean_sounding(const organ::Organ& organ, const organ::Registration& drawn,
                                    std::span<const KeySpan> keys) {
  const auto less = [](const Speaking& a, const Speaking& b) { return before(a, b); };
  std::map<Speaking, int, decltype(less)> down(less);
  std::map<Speaking, double, decltype(less)> seconds(less);
  double total_s = 0;
  double since_s = 0;
  std::vector<Speaking> pressed;
  for (const Edge& edge : edges_of(keys)) {
    if (!down.empty() && edge.at_s > since_s) {
      pressed.clear();
      for (const auto& [key, times] : down) pressed.push_back(key);
      for (const Speaking& one : all_speaking(organ, drawn, pressed)) {
        seconds[one] += edge.at_s - since_s;
      }
      total_s += edge.at_s - since_s;
    }
    since_s = edge.at_s;
    // At one instant a release may stand before the stroke of the same key; the count is whole
    // again when all edges of the instant are read.
    if ((down[edge.key] += edge.change) == 0) down.erase(edge.key);
  }
  std::vector<Sounding> mean;
  for (const auto& [one, s] : seconds) mean.push_back({one, s / total_s});
  return mean;
}

std::vector<Power> box_gains(const organ::Organ& organ, const organ::Registration& drawn) {
  std::vector<Power> gains(organ.divisions.size());
  for (std::size_t d = 0; d < gains.size(); ++d) {
    gains[d].fill(1);
    const auto& box = organ.divisions[d].box;
    for (std::size_t i = 0; i < gains[d].size() && box; ++i) {
      gains[d][i] =
          hearing::power_from_level(organ::box_gain_db(*box, drawn.swell[d], hearing::mid_hz(i)));
    }
  }
  return gains;
}

Power stop_power(const organ::Organ& organ, const StopPowers& powers, std::size_t stop,
                 std::span<const Sounding> sounding, const Power& box_gain) {
  Power power{};
  for (const Sounding& one : sounding) {
    if (one.speaking.division != organ.stops[stop].division) continue;
    add(power, powers.at(stop, one.speaking.key), one.share);
  }
  for (std::size_t i = 0; i < power.size(); ++i) power[i] *= box_gain[i];
  return power;
}

Power registration_power(const organ::Organ& organ, const organ::Registration& drawn,
                         const StopPowers& powers, std::span<const Sounding> sounding) {
  const std::vector<Power> gains = box_gains(organ, drawn);
  Power sum{};
  for (const std::size_t stop : drawn.stops) {
    add(sum, stop_power(organ, powers, stop, sounding, gains[organ.stops[stop].division]));
  }
  return sum;
}

}  // namespace loftbeat::advise
