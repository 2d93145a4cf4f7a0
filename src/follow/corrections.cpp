#include <algorithm>
#include <cstdlib>
#include <map>
#include <tuple>

#include "follow/leftovers.h"

namespace loftbeat::follow {
namespace {

constexpr Nanoseconds kAfterWrong{70'000'000};  // sooner is a slip of two keys at once
constexpr Nanoseconds kPlayedOn{60'000'000};    // lost less than this: played on in time
constexpr Nanoseconds kOrnamentCost{150'000'000};
constexpr int kNearKeys = 4;  // semitones between wrong and right

// By how much the onset after `i` came later than the beats before it promised.
Nanoseconds cost_after(const std::vector<StruckOnset>& onsets, std::size_t i) {
  if (i < 2 || i + 1 >= onsets.size()) return Nanoseconds{0};
  const std::size_t last = i - 1;
  std::size_t first = last;
  while (first > 0 && onsets[last].tick - onsets[first].tick < 4 * kTicksPerQuarter) --first;
  const Tick before = onsets[last].tick - onsets[first].tick;
  if (before <= 0) return Nanoseconds{0};
  const auto speed = static_cast<double>((onsets[last].median - onsets[first].median).count()) /
                     static_cast<double>(before);
  const Nanoseconds expected{static_cast<std::int64_t>(
      speed * static_cast<double>(onsets[i + 1].tick - onsets[last].tick))};
  const Nanoseconds lost = (onsets[i + 1].median - onsets[last].median) - expected;
  return lost > kPlayedOn ? lost : Nanoseconds{0};
}

// The extra note that `right` put right; none if -1.
int wrong_before(const FollowTask& task, const Alignment& alignment, const AlignedPass& pass,
                 int right, Instant after) {
  const take::TakenNote& good = task.take.notes[static_cast<std::size_t>(right)];
  for (std::size_t n = static_cast<std::size_t>(right); n-- > pass.first_note;) {
    const take::TakenNote& note = task.take.notes[n];
    if (note.on <= after) break;
    if (alignment.notes[n].kind != MatchKind::extra || good.on - note.on < kAfterWrong) continue;
    const int interval = std::abs(note.pitch - good.pitch);
    if (interval > 0 && interval <= kNearKeys) return static_cast<int>(n);
  }
  return -1;
}

// A restart lies between: the earlier note belongs to what was played before it.
bool went_back(const AlignedPass& pass, Instant from, Instant to) {
  for (const Restart& restart : pass.restarts) {
    if (from < restart.at && restart.at <= to + kAfterWrong) return true;
  }
  return false;
}

// The same neighbour before the same note in pass after pass, at no cost, is an ornament that the
// score does not show.
void forget_ornaments(Alignment& alignment) {
  std::map<std::tuple<Tick, int>, int> times;
  auto key = [](const Correction& c) { return std::tuple(c.tick, c.wrong_pitch - c.right_pitch); };
  for (const AlignedPass& pass : alignment.passes) {
    for (const Correction& correction : pass.corrections) ++times[key(correction)];
  }
  for (AlignedPass& pass : alignment.passes) {
    std::erase_if(pass.corrections, [&](const Correction& correction) {
      return times[key(correction)] >= 2 && correction.cost <= kOrnamentCost;
    });
  }
}

}  // namespace

void tell_corrections(const FollowTask& task, const std::vector<BuiltPass>& built,
                      Alignment& alignment) {
  for (std::size_t p = 0; p < built.size(); ++p) {
    AlignedPass& pass = alignment.passes[p];
    for (const MatchedStretch& matched : built[p].stretches) {
      for (const Pair& pair : matched.pairs) {
        const Tick tick = task.score.notes[static_cast<std::size_t>(pair.score)].onset;
        auto it = std::lower_bound(pass.onsets.begin(), pass.onsets.end(), tick,
                                   [](const StruckOnset& onset, Tick t) { return onset.tick < t; });
        const auto i = static_cast<std::size_t>(it - pass.onsets.begin());
        if (i == 0) continue;
        // The wrong key belongs to this onset: it was struck nearer to it than to the one before.
        const Instant before = pass.onsets[i - 1].median;
        const Instant after = before + (pass.onsets[i].first - before) / 2;
        const int wrong = wrong_before(task, alignment, pass, pair.taken, after);
        if (wrong < 0) continue;
        const take::TakenNote& good = task.take.notes[static_cast<std::size_t>(pair.taken)];
        if (went_back(pass, task.take.notes[static_cast<std::size_t>(wrong)].on, good.on)) continue;
        pass.corrections.push_back({tick, task.take.notes[static_cast<std::size_t>(wrong)].pitch,
                                    good.pitch, good.on, cost_after(pass.onsets, i)});
      }
    }
  }
  forget_ornaments(alignment);
}

}  // namespace loftbeat::follow
