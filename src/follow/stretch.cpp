#include "follow/stretch.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::follow {
namespace {

// The last place in the tune before an excursion.
struct Last {
  std::size_t note = 0;
  Footing at;
  bool known = false;
  double ns_per_tick = 0;  // speed over the last few onsets, 0 if unknown
};

bool goes_on(const OnsetTable& table, const std::vector<Heard>& notes, const Last& last,
             const Footing& now, std::size_t n) {
  if (!last.known || now.layer != last.at.layer || now.onset < last.at.onset) return false;
  if (!now.jumped) return true;
  const Tick distance = table[now.onset].tick - table[last.at.onset].tick;
  if (distance > 8 * kTicksPerQuarter) return false;
  if (last.ns_per_tick <= 0) return false;
  const double waited = static_cast<double>((notes[n].at - notes[last.note].at).count());
  const double expected = static_cast<double>(distance) * last.ns_per_tick;
  return waited > 0.4 * expected && waited < 2.0 * expected + 1e9;
}

// Medians of the notes that the walk put at each onset.
std::vector<Anchor> anchors_of(const OnsetTable& table, const std::vector<Heard>& notes,
                               const std::vector<Footing>& way, const Stretch& stretch,
                               int transpose) {
  std::vector<std::pair<int, Instant>> heard;
  for (std::size_t n = stretch.first; n < stretch.last; ++n) {
    if (way[n].onset < 0) continue;
    const Sound sound = table.sound(way[n].onset, notes[n].pitch - transpose);
    if (sound >= Sound::octave) heard.emplace_back(way[n].onset, notes[n].at);
  }
  std::stable_sort(heard.begin(), heard.end());
  std::vector<Anchor> anchors;
  for (std::size_t i = 0; i < heard.size();) {
    std::size_t end = i;
    while (end < heard.size() && heard[end].first == heard[i].first) ++end;
    const Instant at = heard[i + (end - i - 1) / 2].second;
    anchors.push_back({heard[i].first, at, static_cast<int>(end - i)});
    i = end;
  }
  return anchors;
}

double speed_between(const OnsetTable& table, const std::vector<Heard>& notes, std::size_t from,
                     const Footing& a, std::size_t to, const Footing& b) {
  const Tick distance = table[b.onset].tick - table[a.onset].tick;
  if (distance <= 0) return 0;
  return static_cast<double>((notes[to].at - notes[from].at).count()) /
         static_cast<double>(distance);
}

}  // namespace

std::vector<Stretch> cut_stretches(const OnsetTable& table, const std::vector<Heard>& notes,
                                   const std::vector<Footing>& way,
                                   const std::vector<int>& layers) {
  std::vector<Stretch> stretches;
  Last last;
  std::size_t begun = 0;  // note at which the stretch's speed is measured from
  for (std::size_t n = 0; n < way.size(); ++n) {
    const Footing& now = way[n];
    if (now.onset < 0) continue;
    const bool back_one =
        last.known && !now.jumped && now.layer == last.at.layer && now.onset == last.at.onset - 1;
    if (!back_one && !goes_on(table, notes, last, now, n)) {
      stretches.push_back({n, n, now.layer, 0, {}});
      begun = n;
      last.ns_per_tick = 0;
    }
    stretches.back().last = n + 1;
    if (now.onset > way[begun].onset) {
      last.ns_per_tick = speed_between(table, notes, begun, way[begun], n, now);
    }
    last.note = n;
    last.at = now;
    last.known = true;
  }
  for (Stretch& stretch : stretches) {
    stretch.anchors =
        anchors_of(table, notes, way, stretch, layers[static_cast<std::size_t>(stretch.layer)]);
  }
  std::erase_if(stretches, [](const Stretch& stretch) { return stretch.anchors.empty(); });
  return stretches;
}

}  // namespace loftbeat::follow
