#include "advise/over_time.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

namespace loftbeat::advise {
namespace {

constexpr double kLongestS = 3600;

struct Stretch {
  double begin_s = 0;
  double end_s = 0;
};

Stretch stretch_of(std::span<const KeySpan> keys) {
  Stretch whole{keys.front().on_s, keys.front().off_s};
  for (const KeySpan& key : keys) {
    whole.begin_s = std::min(whole.begin_s, key.on_s);
    whole.end_s = std::max(whole.end_s, key.off_s);
  }
  whole.end_s = std::min(whole.end_s, whole.begin_s + kLongestS);
  return whole;
}

// What one key of one division gives with everything drawn there, reckoned when first asked for.
class KeyPowers {
 public:
  KeyPowers(const organ::Organ& organ, const organ::Registration& drawn, const StopPowers& powers)
      : organ_(organ), drawn_(drawn), powers_(powers), gains_(box_gains(organ, drawn)) {}

  const Power& of(const organ::Speaking& one) {
    const auto [at, fresh] = known_.try_emplace(std::pair(one.division, one.key));
    if (fresh) {
      const Sounding key{one, 1};
      for (const std::size_t stop : drawn_.stops) {
        add(at->second, stop_power(organ_, powers_, stop, {&key, 1}, gains_[one.division]));
      }
    }
    return at->second;
  }

 private:
  const organ::Organ& organ_;
  const organ::Registration& drawn_;
  const StopPowers& powers_;
  std::vector<Power> gains_;
  std::map<std::pair<std::size_t, int>, Power> known_;
};

// Mean power of each window. Two keys that make one pipe speak (through a coupler) count it once.
std::vector<Power> window_powers(const organ::Organ& organ, const organ::Registration& drawn,
                                 KeyPowers& key_powers, std::span<const KeySpan> keys,
                                 const Stretch& whole) {
  const auto count =
      static_cast<std::size_t>(std::max(1.0, std::ceil((whole.end_s - whole.begin_s) / kWindowS)));
  std::vector<std::vector<KeySpan>> in_window(count);
  for (const KeySpan& key : keys) {
    const double from = (key.on_s - whole.begin_s) / kWindowS;
    const double to = (std::min(key.off_s, whole.end_s) - whole.begin_s) / kWindowS;
    for (auto w = static_cast<std::size_t>(from); w < count && static_cast<double>(w) < to; ++w) {
      const auto at = static_cast<double>(w);
      in_window[w].push_back({std::max(from - at, 0.0), std::min(to - at, 1.0), key.pressed});
    }
  }
  std::vector<Power> windows(count);
  for (std::size_t w = 0; w < count; ++w) {
    double busy = 0;  // share of the window in which any key is down
    double reached = 0;
    std::sort(in_window[w].begin(), in_window[w].end(),
              [](const KeySpan& a, const KeySpan& b) { return a.on_s < b.on_s; });
    for (const KeySpan& key : in_window[w]) {
      busy += std::max(0.0, key.off_s - std::max(key.on_s, reached));
      reached = std::max(reached, key.off_s);
    }
    for (const Sounding& one : mean_sounding(organ, drawn, in_window[w])) {
      add(windows[w], key_powers.of(one.speaking), one.share * busy);
    }
  }
  return windows;
}

}  // namespace

std::optional<OverTime> measure_over_time(const organ::Organ& organ,
                                          const organ::Registration& drawn,
                                          const StopPowers& powers, std::span<const KeySpan> keys,
                                          const Hall& hall) {
  if (keys.empty()) return std::nullopt;
  const Stretch whole = stretch_of(keys);
  KeyPowers key_powers(organ, drawn, powers);
  Power kept{};  // what a window leaves of the field before it
  for (std::size_t i = 0; i < kept.size(); ++i) {
    kept[i] = std::exp(-kWindowS * 6 * std::log(10.0) / hall.acoustics.sabine_s[i]);
  }
  Power field{};
  std::vector<double> sones;
  std::vector<double> sharpnesses;
  for (const Power& given : window_powers(organ, drawn, key_powers, keys, whole)) {
    for (std::size_t i = 0; i < field.size(); ++i) {
      field[i] = field[i] * kept[i] + given[i] * (1 - kept[i]);
    }
    const hearing::Loudness loud =
        hearing::loudness(arriving(hall, field), hearing::SoundField::diffuse);
    sones.push_back(loud.sone);
    if (const auto sharpness = hearing::sharpness_acum(loud)) sharpnesses.push_back(*sharpness);
  }
  OverTime result;
  result.seconds = whole.end_s - whole.begin_s;
  result.n5_sone = hearing::exceeded_for(sones, 5).value_or(0);
  result.n50_sone = hearing::exceeded_for(sones, 50).value_or(0);
  result.n95_sone = hearing::exceeded_for(sones, 95).value_or(0);
  result.median_sharpness_acum = hearing::exceeded_for(sharpnesses, 50);
  return result;
}

}  // namespace loftbeat::advise
