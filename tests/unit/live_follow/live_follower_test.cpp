// The live follower against the truth of simulated takes. The simulator is ours: promises kept, not
// outside evidence.

#include "follow/live_follower.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>

#include <gtest/gtest.h>

#include "simulate/simulate.h"
#include "take/hygiene.h"

namespace loftbeat::follow {
namespace {

constexpr Nanoseconds kSpread{60'000'000};  // chords are spread to 60 ms
constexpr Nanoseconds kLook{50'000'000};

int players(int all) { return std::getenv("LOFTBEAT_QUICK") != nullptr ? all / 10 : all; }

struct Key {
  Instant at;
  int pitch = 0;
  bool down = false;
};

std::vector<Key> keys_of(const take::CleanTake& take) {
  std::vector<Key> keys;
  for (const take::TakenNote& note : take.notes) {
    keys.push_back({note.on, note.pitch, true});
    keys.push_back({note.off, note.pitch, false});
  }
  std::stable_sort(keys.begin(), keys.end(),
                   [](const Key& a, const Key& b) { return a.at < b.at; });
  return keys;
}

class Feed {
 public:
  Feed(LiveFollower& follower, std::vector<Key> keys)
      : follower_(follower), keys_(std::move(keys)) {}
  void until(Instant at) {
    for (; next_ < keys_.size() && keys_[next_].at <= at; ++next_) {
      const Key& key = keys_[next_];
      if (key.down) {
        follower_.note_on(key.at, key.pitch);
      } else {
        follower_.note_off(key.at, key.pitch);
      }
    }
  }

 private:
  LiveFollower& follower_;
  std::vector<Key> keys_;
  std::size_t next_ = 0;
};

// Where the player truly was: every onset rightly struck, in time.
struct TrueStep {
  Instant at;
  Tick tick = 0;
  bool jump = false;  // not the onset after the one before
};

std::vector<TrueStep> true_way(const simulate::Truth& truth) {
  std::vector<TrueStep> way;
  for (const simulate::TrueNote& note : truth.notes) {
    const bool right =
        note.kind == simulate::NoteKind::right || note.kind == simulate::NoteKind::octave;
    if (!right || note.pass < 0) continue;
    if (!way.empty() && way.back().tick == note.tick) continue;
    way.push_back({note.stamped_on, note.tick, false});
  }
  std::stable_sort(way.begin(), way.end(),
                   [](const TrueStep& a, const TrueStep& b) { return a.at < b.at; });
  for (std::size_t i = 1; i < way.size(); ++i)
    way[i].jump =
        way[i].tick < way[i - 1].tick || way[i].tick > way[i - 1].tick + 4 * kTicksPerQuarter;
  return way;
}

// The place in time between two steps, if it can be told.
std::optional<double> true_tick(const std::vector<TrueStep>& way, std::size_t i, Instant at) {
  if (i + 1 >= way.size() || way[i + 1].jump) return std::nullopt;
  const double share = static_cast<double>((at - way[i].at).count()) /
                       static_cast<double>((way[i + 1].at - way[i].at).count());
  return static_cast<double>(way[i].tick) +
         share * static_cast<double>(way[i + 1].tick - way[i].tick);
}

struct Tally {
  int moments = 0;
  int right = 0;
  int onsets = 0;
  int onsets_right = 0;
  int two_bars_on = 0;  // after a jump
  int found_again = 0;
};

// From the first onset of bars that begin at or after `tick`: two bars further.
Tick two_bars_after(const music::Score& score, Tick tick) {
  int bars = 0;
  for (const music::Bar& bar : score.bars) {
    if (bar.start > tick && ++bars == 2) return bar.start;
  }
  return score.length;
}

void follow_one(const simulate::ModelCase& model, Tally& tally) {
  const auto played = simulate::play(model);
  ASSERT_TRUE(played.ok());
  const take::CleanTake clean = take::clean(played->performance.take);
  const std::vector<TrueStep> way = true_way(played->performance.truth);
  const double beat = static_cast<double>(plan::ticks(model.plan.beat));
  const double quarters = model.plan.tempo_bpm * beat / static_cast<double>(kTicksPerQuarter);
  LiveFollower follower(model.score, played->route, quarters);
  Feed feed(follower, keys_of(clean));
  Tick settled = 0;  // two bars after the last jump are left out up to here
  bool settling = false;
  for (std::size_t i = 0; i + 1 < way.size(); ++i) {
    if (i > 0 && way[i].jump) {
      settled = two_bars_after(model.score, way[i].tick);
      settling = true;
    }
    if (settling && way[i].tick >= settled) {
      settling = false;
      ++tally.two_bars_on;
      feed.until(way[i].at + kSpread);
      if (follower.position(way[i].at + kSpread).onset == way[i].tick) ++tally.found_again;
    }
    // When the chord has been struck, before the next one is.
    const Instant struck = std::min(way[i].at + kSpread, way[i + 1].at - Nanoseconds{1});
    feed.until(struck);
    if (!settling) {
      const LivePosition now = follower.position(struck);
      ++tally.onsets;
      if (now.in_tune &&
          std::abs(static_cast<double>(now.onset - way[i].tick)) * now.ns_per_tick <= 50e6)
        ++tally.onsets_right;
    }
    for (Instant at = way[i].at + kSpread; at < way[i + 1].at; at += kLook) {
      feed.until(at);
      const auto truth = true_tick(way, i, at);
      if (settling || !truth) continue;
      const LivePosition now = follower.position(at);
      ++tally.moments;
      if (now.in_tune && std::abs(static_cast<double>(now.tick) - *truth) <= beat) ++tally.right;
    }
  }
}

TEST(LiveFollower, KnowsWhereARoughPlayerIs) {
  Tally all;
  for (int seed = 0; seed < players(100); ++seed) {
    Tally one;
    follow_one(simulate::rough_player(static_cast<std::uint64_t>(seed)), one);
    all.moments += one.moments;
    all.right += one.right;
    all.onsets += one.onsets;
    all.onsets_right += one.onsets_right;
    all.two_bars_on += one.two_bars_on;
    all.found_again += one.found_again;
  }
  std::printf(
      "within a beat %.2f %% of %d moments; onsets %.2f %% of %d; two bars after a jump %.1f %% of "
      "%d\n",
      100.0 * all.right / all.moments, all.moments, 100.0 * all.onsets_right / all.onsets,
      all.onsets, 100.0 * all.found_again / all.two_bars_on, all.two_bars_on);
  EXPECT_GE(all.found_again, 0.95 * all.two_bars_on);
  EXPECT_GE(all.right, 0.99 * all.moments);
  EXPECT_GE(all.onsets_right, 0.98 * all.onsets);
}

}  // namespace
}  // namespace loftbeat::follow
