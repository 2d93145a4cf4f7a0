// The plain full dynamic time warping that benchmarks compare with must be right itself.

#include "bench/full_dtw.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <initializer_list>
#include <limits>
#include <random>
#include <vector>

namespace loftbeat::bench {
namespace {

Pitches chord(std::initializer_list<std::size_t> pitches) {
  Pitches set;
  for (const std::size_t pitch : pitches) set.set(pitch);
  return set;
}

// Cheapest cost from (i, j) to the end by trying every way: the definition itself.
float cheapest(const std::vector<Pitches>& a, const std::vector<Pitches>& b, std::size_t i,
               std::size_t j) {
  const float here = distance(a[i], b[j]);
  if (i + 1 == a.size() && j + 1 == b.size()) return here;
  float rest = std::numeric_limits<float>::infinity();
  if (i + 1 < a.size() && j + 1 < b.size()) rest = std::min(rest, cheapest(a, b, i + 1, j + 1));
  if (i + 1 < a.size()) rest = std::min(rest, cheapest(a, b, i + 1, j));
  if (j + 1 < b.size()) rest = std::min(rest, cheapest(a, b, i, j + 1));
  return here + rest;
}

std::vector<Pitches> random_chords(std::mt19937& random, std::size_t length) {
  std::vector<Pitches> chords(length);
  for (Pitches& c : chords) {
    for (int i = 0; i < 3; ++i) c.set(60 + random() % 5);
  }
  return chords;
}

TEST(FullDtw, DistanceIsOneMinusTheSharedPart) {
  EXPECT_FLOAT_EQ(distance(chord({60, 64}), chord({60, 64})), 0);
  EXPECT_FLOAT_EQ(distance(chord({60, 64}), chord({62, 65})), 1);
  EXPECT_FLOAT_EQ(distance(chord({60, 64}), chord({64, 67})), 1 - 1.0F / 3);
}

TEST(FullDtw, WorkedExampleOfTheHeader) {
  const Pitches c = chord({60});
  const Pitches d = chord({62});
  const Pitches e = chord({64});
  const std::vector<Pair> expected = {{0, 0}, {0, 1}, {1, 2}, {2, 3}};
  EXPECT_EQ(full_dtw({c, d, e}, {c, c, d, e}), expected);
}

TEST(FullDtw, PathGoesFromEndToEndByStepsOfOneAndIsTheCheapestOfAll) {
  std::mt19937 random(7);
  for (int round = 0; round < 200; ++round) {
    const auto a = random_chords(random, 1 + random() % 5);
    const auto b = random_chords(random, 1 + random() % 5);
    const std::vector<Pair> path = full_dtw(a, b);
    ASSERT_EQ(path.front(), Pair(0, 0));
    ASSERT_EQ(path.back(), Pair(a.size() - 1, b.size() - 1));
    float cost = 0;
    for (std::size_t k = 0; k < path.size(); ++k) {
      cost += distance(a[path[k].first], b[path[k].second]);
      if (k == 0) continue;
      ASSERT_LE(path[k].first - path[k - 1].first, 1U);
      ASSERT_LE(path[k].second - path[k - 1].second, 1U);
      ASSERT_NE(path[k], path[k - 1]);
    }
    ASSERT_NEAR(cost, cheapest(a, b, 0, 0), 1e-5);
  }
}

TEST(FullDtw, NotesWithinTheWindowAreOneChord) {
  take::CleanTake take;
  for (const double at : {1.0, 1.06, 1.0601, 2.0}) {
    take::TakenNote note;
    note.on = instant_from_seconds(at);
    note.pitch = static_cast<std::uint8_t>(60 + take.notes.size());
    take.notes.push_back(note);
  }
  const std::vector<Pitches> expected = {chord({60, 61}), chord({62}), chord({63})};
  EXPECT_EQ(played_chords(take), expected);
}

TEST(FullDtw, TheRouteIsLaidOutPassByPass) {
  music::Score score;
  score.notes = {{0, 10, 48, 3, 1}, {0, 10, 60, 0, 0}, {10, 10, 62, 0, 0}};
  plan::Route route;
  route.passes.resize(3);
  route.passes[0].spans = {{0, 10}};
  route.passes[1].unaccompanied = true;
  route.passes[1].spans = {{0, 20}};
  route.passes[2].spans = {{0, 20}};
  route.passes[2].transpose_semitones = 2;
  const std::vector<Pitches> expected = {chord({48, 60}), chord({50, 62}), chord({64})};
  EXPECT_EQ(score_chords(score, route), expected);
}

}  // namespace
}  // namespace loftbeat::bench
