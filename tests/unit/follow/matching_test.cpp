// Note matching of one stretch against an oracle: all ways of pairing, tried one by one.

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>

#include "follow/note_match.h"
#include "scenes.h"

namespace loftbeat::test {
namespace {

// One pitch only: score times a second apart, played times somewhere near. The best sum of
// 1 - |off| / reach over all order-keeping pairings, by plain recursion.
double best_by_trying(const std::vector<double>& expected, const std::vector<double>& played,
                      double reach, std::size_t i = 0, std::size_t j = 0) {
  if (i == expected.size() || j == played.size()) return 0;
  double best = std::max(best_by_trying(expected, played, reach, i + 1, j),
                         best_by_trying(expected, played, reach, i, j + 1));
  const double gain = 1 - std::abs(played[j] - expected[i]) / reach;
  return std::max(best, gain + best_by_trying(expected, played, reach, i + 1, j + 1));
}

// What the pairs of one pitch are worth against the times that the final round expected.
double worth_of(const music::Score& score, const follow::Matching& found, int pitch) {
  double worth = 0;
  for (const follow::Pair& pair : found.pairs) {
    const music::Note& note = score.notes[static_cast<std::size_t>(pair.score)];
    if (note.pitch == pitch) worth += 1 - std::abs(pair.off_ns) / 300e6;
  }
  return worth;
}

TEST(Matching, PairsAreAsGoodAsAnyWayOfPairing) {
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> jitter(-0.2, 0.2);
  for (int round = 0; round < 300; ++round) {
    // A frame of chords fixes the time map; one pitch, 40, is what is tried.
    std::vector<std::vector<int>> chords;
    for (int k = 0; k < 6; ++k) chords.push_back({80 + k, 90 + k, 40});
    const music::Score score = crotchets(chords);
    take::CleanTake take;
    std::vector<double> expected;
    std::vector<double> played;
    for (int k = 0; k < 6; ++k) {
      const double at = 1.0 + k;
      for (int copy = 0; copy < 2; ++copy) strike(take, at, at + 0.5, copy == 0 ? 80 + k : 90 + k);
      expected.push_back(at);
      const std::uint64_t strikes = random() % 3;
      for (std::uint64_t s = 0; s < strikes; ++s) played.push_back(at + jitter(random));
    }
    std::sort(played.begin(), played.end());
    for (double at : played) strike(take, at, at + 0.1, 40);
    sort(take);

    const follow::OnsetTable table(score, {});
    std::vector<follow::Anchor> anchors;
    for (int k = 0; k < 6; ++k) anchors.push_back({k, instant_from_seconds(1.0 + k), 200});
    const follow::MatchTask task{score, table, take, 0, take.notes.size(), 0, score.length};
    const follow::Matching found = follow::match_notes(task, anchors, 1e9 / kTicksPerQuarter);

    const double worth = worth_of(score, found, 40);
    // The map moves by at most a few milliseconds with the chosen notes: two of three notes of
    // each chord are exact.
    EXPECT_NEAR(worth, best_by_trying(expected, played, 0.3), 0.01) << "round " << round;
    for (std::size_t i = 1; i < found.pairs.size(); ++i) {
      EXPECT_NE(found.pairs[i - 1].taken, found.pairs[i].taken);
    }
  }
}

TEST(Matching, ExactPlayingPairsEverything) {
  const auto chords = sixteen_chords();
  const music::Score score = crotchets(chords);
  take::CleanTake take;
  play(take, chords, 0, chords.size(), 2.0, 0.5);
  sort(take);
  const follow::OnsetTable table(score, {});
  const std::vector<follow::Anchor> anchors = {{0, instant_from_seconds(2.0), 4},
                                               {15, instant_from_seconds(9.5), 4}};
  const follow::MatchTask task{score, table, take, 0, take.notes.size(), 0, score.length};
  const follow::Matching found = follow::match_notes(task, anchors, 0.5e9 / kTicksPerQuarter);
  EXPECT_EQ(found.pairs.size(), score.notes.size());
  for (const follow::Pair& pair : found.pairs) EXPECT_NEAR(pair.off_ns, 0, 1);
}

// A chord rolled into the onset after it, which strikes the chord's last key once more.
struct RolledScene {
  music::Score score = crotchets({{60}, {76, 67, 64, 60, 48}, {76}});
  take::CleanTake take;
  RolledScene() {
    strike(take, 0.0, 0.9, 60);
    const int chord[] = {48, 60, 64, 67};
    for (int i = 0; i < 4; ++i) strike(take, 1.0 + 0.25 * i, 2.5, chord[i]);
  }
  [[nodiscard]] follow::Matching matched() {
    sort(take);
    const follow::OnsetTable table(score, {});
    const std::vector<follow::Anchor> anchors = {{0, instant_from_seconds(0.0), 1},
                                                 {1, instant_from_seconds(1.3), 4},
                                                 {2, instant_from_seconds(2.0), 1}};
    const follow::MatchTask task{score, table, take, 0, take.notes.size(), 0, score.length};
    return follow::match_notes(task, anchors, 1e9 / kTicksPerQuarter);
  }
  // Seconds at which the top note of the chord (1) or of the last onset (2) was found; -1 = not.
  [[nodiscard]] double top_note(const follow::Matching& found, int onset) const {
    for (const follow::Pair& pair : found.pairs) {
      const music::Note& note = score.notes[static_cast<std::size_t>(pair.score)];
      if (note.pitch == 76 && note.onset == onset * kTicksPerQuarter) {
        return seconds(take.notes[static_cast<std::size_t>(pair.taken)].on);
      }
    }
    return -1;
  }
};

TEST(Matching, TheLastNoteOfARollIsNotTheNextOnset) {
  RolledScene scene;
  strike(scene.take, 2.05, 2.5, 76);
  strike(scene.take, 2.9, 3.5, 76);
  const follow::Matching found = scene.matched();
  EXPECT_DOUBLE_EQ(scene.top_note(found, 1), 2.05);
  EXPECT_DOUBLE_EQ(scene.top_note(found, 2), 2.9);
}

TEST(Matching, ARollWithoutItsLastNoteTakesNoneFromTheNextOnset) {
  RolledScene scene;
  strike(scene.take, 2.05, 2.9, 76);
  const follow::Matching found = scene.matched();
  EXPECT_DOUBLE_EQ(scene.top_note(found, 1), -1);
  EXPECT_DOUBLE_EQ(scene.top_note(found, 2), 2.05);
}

TEST(Matching, ANoteThatBreaksTheRhythmOfTheRollIsTheNextOnset) {
  RolledScene scene;
  strike(scene.take, 2.35, 2.5, 76);
  strike(scene.take, 2.9, 3.5, 76);
  const follow::Matching found = scene.matched();
  EXPECT_DOUBLE_EQ(scene.top_note(found, 1), -1);
  EXPECT_DOUBLE_EQ(scene.top_note(found, 2), 2.35);
}

}  // namespace
}  // namespace loftbeat::test
