// What is noted against what was played, over tunes and players by chance.

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <set>
#include <tuple>

#include "chance_chorale.h"
#include "notate/noted_hymn.h"
#include "played_once.h"

namespace loftbeat::notate {
namespace {

struct Score {
  std::size_t notes = 0;       // of the tunes
  std::size_t right = 0;       // onset, pitch and length
  std::size_t right_part = 0;  // and the part
  std::size_t onsets = 0;      // onset and pitch
  std::size_t tunes = 0;
  std::size_t easy = 0;  // tunes with at most two bars to be mended
  std::size_t bars = 0;  // to be mended, of all tunes
};

using Key = std::tuple<Tick, int, Tick, int>;

void compare(const Chorale& tune, const music::Score& noted, Score& sum, bool tell) {
  std::multiset<Key> whole, timed, struck;
  for (const music::Note& n : noted.notes) {
    whole.insert({n.onset, n.pitch, n.length, n.voice});
    timed.insert({n.onset, n.pitch, n.length, 0});
    struck.insert({n.onset, n.pitch, 0, 0});
  }
  std::set<int> bars;
  const auto take = [](std::multiset<Key>& from, const Key& key) {
    const auto found = from.find(key);
    if (found == from.end()) return false;
    from.erase(found);
    return true;
  };
  for (const music::Note& n : tune.score.notes) {
    ++sum.notes;
    const bool right = take(timed, {n.onset, n.pitch, n.length, 0});
    const bool part = take(whole, {n.onset, n.pitch, n.length, n.voice});
    const bool onset = take(struck, {n.onset, n.pitch, 0, 0});
    sum.right += right;
    sum.right_part += part;
    sum.onsets += onset;
    if (!right) bars.insert(bar_number(tune.setting, n.onset));
    if (!right && tell) {
      std::printf("   wrong: %s key %d voice %d length %.2f",
                  place_words(tune.setting, n.onset).c_str(), n.pitch, n.voice, quarters(n.length));
      for (const music::Note& m : noted.notes)
        if (m.onset == n.onset && m.pitch == n.pitch)
          std::printf("; read as voice %d length %.2f", m.voice, quarters(m.length));
      std::printf("\n");
    }
  }
  for (const Key& extra : timed) bars.insert(bar_number(tune.setting, std::get<0>(extra)));
  ++sum.tunes;
  sum.bars += bars.size();
  sum.easy += bars.size() <= 2;
}

Score run(std::uint64_t first, std::uint64_t count, const Playing& playing) {
  Score sum;
  const bool tell = std::getenv("LOFTBEAT_TELL") != nullptr;
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    const Chorale tune = chance_chorale(seed);
    const auto hymn = note_down(played_once(tune.score, tune.setting, playing, seed), tune.setting);
    EXPECT_TRUE(hymn);
    if (!hymn) continue;
    if (tell)
      std::printf("seed %d: %d/%d upbeat %.1f tempo %.0f, %zu notes\n", static_cast<int>(seed),
                  tune.setting.beats, tune.setting.beat_type, quarters(tune.setting.upbeat),
                  tune.setting.tempo_bpm, tune.score.notes.size());
    compare(tune, write(*hymn).score, sum, tell);
  }
  return sum;
}

void print(const char* name, const Score& s) {
  const auto percent = [&](std::size_t n) {
    return 100.0 * static_cast<double>(n) / static_cast<double>(s.notes);
  };
  std::printf(
      "%s: %zu notes of %zu tunes; onset %.3f %%, onset and length %.3f %%, and part "
      "%.3f %%; bars to mend %zu, tunes with at most two %zu\n",
      name, s.notes, s.tunes, percent(s.onsets), percent(s.right), percent(s.right_part), s.bars,
      s.easy);
}

std::uint64_t tunes() { return std::getenv("LOFTBEAT_QUICK") != nullptr ? 20 : 100; }

TEST(NoteDownAccuracy, ReadsPlayersWhoStrayByChance) {
  const Score sum = run(1, tunes(), {});
  print("by chance", sum);
  EXPECT_GE(sum.right * 100, sum.notes * 99);
  EXPECT_GE(sum.easy * 20, sum.tunes * 19);
}

TEST(NoteDownAccuracy, ReadsPlayersWhoSwing) {
  Playing playing;
  playing.wander = Playing::Wander::swinging;
  const Score sum = run(1001, tunes(), playing);
  print("swinging", sum);
  EXPECT_GE(sum.right * 100, sum.notes * 99);
  EXPECT_GE(sum.easy * 20, sum.tunes * 19);
}

}  // namespace
}  // namespace loftbeat::notate
