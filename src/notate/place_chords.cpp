#include "notate/place_chords.h"

#include <algorithm>
#include <bitset>
#include <cmath>
#include <map>

namespace loftbeat::notate {
namespace {

constexpr std::size_t kWays = 60;       // kept at each key
constexpr double kCostKept = 22;        // above the best of them
constexpr std::size_t kMostKeys = 24;   // of one chord: ten fingers and two feet, coupled
constexpr double kChordSeconds = 0.19;  // from the first key of a chord to its last
constexpr double kRoundsOff = 0.75;     // quarters about the due place that are looked at
constexpr double kLogRoot2Pi = 0.91893853320467274178;

// One way to understand the keys up to some key.
struct Way {
  int parent = -1;        // into all ways; -1: it begins here
  std::size_t first = 0;  // the last chord: its first key
  std::size_t after = 0;  // and the one after its last
  Tick at = 0;
  Belief belief;
  double cost = 0;
};

// Keys first .. first + n taken as one chord: their mean, and what their scatter costs.
struct Bunch {
  double mean = 0;
  double cost = 0;
};

class Placer {
 public:
  Placer(const std::vector<HeardKey>& keys, const PlaceOrder& order)
      : keys_(keys),
        order_(order),
        metrical_(order.setting),
        straying_(straying_of(order.setting)),
        ends_(keys.size() + 1) {}

  Placing place() {
    for (const auto& [after, bunch] : bunches(0)) begin_with(after, bunch);
    for (std::size_t first = 1; first < keys_.size(); ++first) {
      thin(first);
      if (ends_[first].empty()) continue;
      const auto next = bunches(first);
      for (const int index : ends_[first])
        for (const auto& [after, bunch] : next) go_on(index, first, after, bunch);
    }
    return result();
  }

 private:
  [[nodiscard]] std::vector<std::pair<std::size_t, Bunch>> bunches(std::size_t first) const;
  void begin_with(std::size_t after, const Bunch& bunch);
  void go_on(int parent, std::size_t first, std::size_t after, const Bunch& bunch);
  void add(Way way);
  void thin(std::size_t key);
  [[nodiscard]] Placing result();
  [[nodiscard]] Belief at_first() const {
    const double sd = straying_.tempo_sd * straying_.quarter_s;
    return {0, straying_.quarter_s, 0, 0, sd * sd};
  }

  const std::vector<HeardKey>& keys_;
  PlaceOrder order_;
  Metrical metrical_;
  Straying straying_;
  std::vector<Way> ways_;
  std::vector<std::vector<int>> ends_;  // by key: ways whose last chord ends before it
};

// All chords that may begin with a key: the next so many keys, within the time of a chord and no
// key twice.
std::vector<std::pair<std::size_t, Bunch>> Placer::bunches(std::size_t first) const {
  std::vector<std::pair<std::size_t, Bunch>> found;
  std::bitset<128> struck;
  double sum = 0;
  double squares = 0;
  const double origin = keys_[first].on;
  const double sd = straying_.key_sd_s;
  for (std::size_t i = first; i < keys_.size() && i < first + kMostKeys; ++i) {
    const double since = keys_[i].on - origin;
    const auto pitch = static_cast<std::size_t>(keys_[i].pitch);
    if (since > kChordSeconds || struck[pitch]) break;
    struck.set(pitch);
    sum += since;
    squares += since * since;
    const auto n = static_cast<double>(i - first + 1);
    Bunch bunch;
    bunch.mean = origin + sum / n;
    const double scatter = std::max(0.0, squares - sum * sum / n);
    bunch.cost =
        scatter / (2 * sd * sd) + (n - 1) * (std::log(sd) + kLogRoot2Pi) + 0.5 * std::log(n);
    // Keys that are struck at the very same moment belong together.
    if (i + 1 < keys_.size() && keys_[i + 1].on - keys_[i].on < 0.003 &&
        !struck[static_cast<std::size_t>(keys_[i + 1].pitch)] && i + 1 < first + kMostKeys)
      continue;
    found.emplace_back(i + 1, bunch);
  }
  return found;
}

void Placer::begin_with(std::size_t after, const Bunch& bunch) {
  const Sighting sighting{bunch.mean, static_cast<int>(after)};
  Belief belief = at_first();
  if (!order_.first_due_s) {
    belief.at = bunch.mean;
    belief.var_at = 0.02 * 0.02;
    const Seen seen = see(straying_, belief, sighting);
    add({-1, 0, after, order_.first, seen.belief, seen.cost + bunch.cost});
    return;
  }
  belief.at = *order_.first_due_s;
  belief.var_at = std::pow(0.2 * straying_.quarter_s, 2);
  const Tick most = 4 * bar_length(order_.setting);
  for (Tick at = order_.first; at <= order_.first + most; at += Metrical::kGrain) {
    if (!metrical_.may_begin(at)) continue;
    const double wait = quarters(at - order_.first);
    const Seen seen = see(straying_, later(straying_, belief, wait), sighting);
    const double late = at == order_.first ? 0 : 1 + metrical_.step_cost(order_.first, at);
    add({-1, 0, after, at, seen.belief, seen.cost + bunch.cost + late});
  }
}

void Placer::go_on(int parent, std::size_t first, std::size_t after, const Bunch& bunch) {
  const Way from = ways_[static_cast<std::size_t>(parent)];
  const Sighting sighting{bunch.mean, static_cast<int>(after - first)};
  const double quarter =
      std::clamp(from.belief.quarter, 0.5 * straying_.quarter_s, 2 * straying_.quarter_s);
  // A long silence is no more than four bars.
  const double most = 4 * quarters(bar_length(order_.setting));
  const double due = std::min((bunch.mean - from.belief.at) / quarter, most);
  const Tick centre = from.at + ticks_from_quarters(std::max(due, 0.0));
  const Tick round = ticks_from_quarters(kRoundsOff);
  const Tick grain = Metrical::kGrain;
  Tick at = std::max(from.at + grain, centre - round);
  at += (grain - at % grain) % grain;
  for (; at <= std::max(centre + round, from.at + 2 * round); at += grain) {
    if (!metrical_.may_begin(at)) continue;
    const Seen seen =
        see(straying_, later(straying_, from.belief, quarters(at - from.at)), sighting);
    add({parent, first, after, at, seen.belief,
         from.cost + bunch.cost + seen.cost + metrical_.step_cost(from.at, at)});
  }
}

void Placer::add(Way way) {
  ends_[way.after].push_back(static_cast<int>(ways_.size()));
  ways_.push_back(way);
}

// Keeps the best ways, one for each place of the last chord.
void Placer::thin(std::size_t key) {
  std::vector<int>& ends = ends_[key];
  const auto cost = [&](int index) { return ways_[static_cast<std::size_t>(index)].cost; };
  std::stable_sort(ends.begin(), ends.end(), [&](int a, int b) { return cost(a) < cost(b); });
  std::vector<int> kept;
  std::vector<std::pair<Tick, std::size_t>> places;
  for (const int index : ends) {
    const Way& way = ways_[static_cast<std::size_t>(index)];
    if (kept.size() >= kWays || cost(index) > cost(ends.front()) + kCostKept) break;
    const std::pair<Tick, std::size_t> place{way.at, way.first};
    if (std::find(places.begin(), places.end(), place) != places.end()) continue;
    places.push_back(place);
    kept.push_back(index);
  }
  ends = std::move(kept);
}

Placing Placer::result() {
  Placing placing;
  const std::size_t last = keys_.size();
  if (ends_[last].empty()) return placing;
  thin(last);
  int index = ends_[last].front();
  placing.cost = ways_[static_cast<std::size_t>(index)].cost;
  std::vector<PlacedSighting> sightings;
  while (index >= 0) {
    const Way& way = ways_[static_cast<std::size_t>(index)];
    PlacedChord chord;
    chord.at = way.at;
    double sum = 0;
    for (std::size_t i = way.first; i < way.after; ++i) {
      chord.keys.push_back(i);
      sum += keys_[i].on;
    }
    chord.mean_s = sum / static_cast<double>(chord.keys.size());
    sightings.push_back({chord.at, {chord.mean_s, static_cast<int>(chord.keys.size())}});
    placing.chords.push_back(std::move(chord));
    index = way.parent;
  }
  std::reverse(placing.chords.begin(), placing.chords.end());
  std::reverse(sightings.begin(), sightings.end());
  placing.line = TimeLine(straying_, sightings);
  return placing;
}

}  // namespace

Straying straying_of(const Setting& setting) {
  Straying straying;
  straying.quarter_s = seconds_per_quarter(setting);
  return straying;
}

Placing place_chords(const std::vector<HeardKey>& keys, const PlaceOrder& order) {
  if (keys.empty()) return {};
  return Placer(keys, order).place();
}

}  // namespace loftbeat::notate
