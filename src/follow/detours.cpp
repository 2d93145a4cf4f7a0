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

// Anchors of `away` as onsets that `before` lacks at the end of the tune, those that are in time.
std::vector<Anchor> as_last_onsets(const OnsetTable& table, const Stretch& before,
                                   const Stretch& away) {
  std::vector<Anchor> found;
  int onset = before.last_onset() + 1;
  for (const Anchor& heard : away.anchors) {
    for (int k = onset; k < table.size(); ++k) {
      const double share = share_of_expected(table, before, {k, heard.at, heard.count});
      const bool last = k + 1 == table.size();
      if (share < (last ? kLastChordSooner : 1 - kInTime)) break;  // further ones are later still
      if (share > (last ? kLastChordLater : 1 + kInTime)) continue;
      found.push_back({k, heard.at, heard.count});
      onset = k + 1;
      break;
    }
  }
  return found;
}

bool may_be_last_chords(const OnsetTable& table, const Stretch& before, const Stretch& away) {
  const int last = table.size() - 1;
  return away.anchors.size() <= kDetourOnsets && before.anchors.size() >= kFirmOnsets &&
         before.layer == away.layer && before.last_onset() < last &&
         before.last_onset() + static_cast<int>(kDetourOnsets) >= last &&
         away.last_onset() < last;  // else it is the end played once more
}

bool has_last_note_on_top(const OnsetTable& table, const std::vector<Heard>& notes,
                          const Stretch& chord, int transpose) {
  int top = 0;
  for (std::size_t n = chord.first; n < chord.last; ++n) top = std::max(top, notes[n].pitch);
  return table.sound(table.size() - 1, top - transpose) >= Sound::tune_octave;
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
    const Stretch& away = stretches[i];
    Stretch& before = stretches[i - 1];
    if (!may_be_last_chords(table, before, away)) continue;
    if (i + 1 < stretches.size() && stretches[i + 1].first_onset() != 0) continue;
    const int transpose = layers[static_cast<std::size_t>(away.layer)];
    if (away.first_onset() == 0 && !has_last_note_on_top(table, notes, away, transpose)) continue;
    const std::vector<Anchor> found = as_last_onsets(table, before, away);
    if (found.empty() || found.back().onset + 1 != table.size()) continue;
    before.last = away.last;
    before.anchors.insert(before.anchors.end(), found.begin(), found.end());
    stretches.erase(std::next(stretches.begin(), static_cast<std::ptrdiff_t>(i)));
  }
}

}  // namespace loftbeat::follow
