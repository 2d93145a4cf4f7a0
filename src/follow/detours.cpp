#include "follow/detours.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace loftbeat::follow {
namespace {

constexpr std::size_t kDetourOnsets = 3;
constexpr std::size_t kFirmOnsets = 4;  // a stretch that knows its speed
constexpr Tick kDetourReach = 8 * kTicksPerQuarter;
constexpr double kInTime = 0.25;  // share of the expected time
// A last chord is broadened, hardly ever hurried.
constexpr double kLastChordSooner = 0.6;
constexpr double kLastChordLater = 2.5;

// Time from the last anchor of `a` to the first of `b`, as a share of what the speed of `a` says.
// 0 if `b` does not lie ahead or the speed is not known.
double share_of_expected(const OnsetTable& table, const Stretch& a, const Anchor& b) {
  const Anchor& begin = a.anchors.front();
  const Anchor& end = a.anchors.back();
  const Tick played = table[end.onset].tick - table[begin.onset].tick;
  const Tick ahead = table[b.onset].tick - table[end.onset].tick;
  if (played <= 0 || ahead <= 0 || ahead > kDetourReach) return 0;
  const double speed =
      static_cast<double>((end.at - begin.at).count()) / static_cast<double>(played);
  return static_cast<double>((b.at - end.at).count()) / (speed * static_cast<double>(ahead));
}

bool is_detour(const OnsetTable& table, const Stretch& before, const Stretch& away,
               const Stretch& after) {
  if (before.layer != after.layer || away.anchors.size() > kDetourOnsets) return false;
  if (before.anchors.size() < kFirmOnsets || after.anchors.size() < kFirmOnsets) return false;
  const double share = share_of_expected(table, before, after.anchors.front());
  return std::abs(share - 1) <= kInTime;
}

void append(Stretch& to, const Stretch& from) {
  to.last = from.last;
  to.anchors.insert(to.anchors.end(), from.anchors.begin(), from.anchors.end());
}

bool is_missing_last_chord(const OnsetTable& table, const std::vector<Heard>& notes,
                           const Stretch& before, const Stretch& chord, int transpose) {
  const int last = table.size() - 1;
  if (chord.anchors.size() != 1 || chord.first_onset() != 0 || before.layer != chord.layer) {
    return false;
  }
  if (before.anchors.size() < kFirmOnsets || before.last_onset() != last - 1) return false;
  const double share = share_of_expected(table, before, {last, chord.anchors.front().at, 1});
  if (share < kLastChordSooner || share > kLastChordLater) return false;
  int top = 0;
  for (std::size_t n = chord.first; n < chord.last; ++n) top = std::max(top, notes[n].pitch);
  return table.sound(last, top - transpose) >= Sound::tune_octave;
}

}  // namespace

void iron_out_detours(const OnsetTable& table, std::vector<Stretch>& stretches) {
  std::vector<Stretch> kept;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const bool detour = !kept.empty() && i + 1 < stretches.size() &&
                        is_detour(table, kept.back(), stretches[i], stretches[i + 1]);
    if (detour) {
      append(kept.back(), stretches[++i]);
    } else {
      kept.push_back(std::move(stretches[i]));
    }
  }
  stretches = std::move(kept);
}

void join_last_chords(const OnsetTable& table, const std::vector<Heard>& notes,
                      const std::vector<int>& layers, std::vector<Stretch>& stretches) {
  for (std::size_t i = stretches.size(); i-- > 1;) {
    const int transpose = layers[static_cast<std::size_t>(stretches[i].layer)];
    Stretch& before = stretches[i - 1];
    if (!is_missing_last_chord(table, notes, before, stretches[i], transpose)) continue;
    Anchor anchor = stretches[i].anchors.front();
    anchor.onset = table.size() - 1;
    before.last = stretches[i].last;
    before.anchors.push_back(anchor);
    stretches.erase(std::next(stretches.begin(), static_cast<std::ptrdiff_t>(i)));
  }
}

}  // namespace loftbeat::follow
