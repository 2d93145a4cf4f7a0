#include "pipes/pitch.h"

#include <gtest/gtest.h>

#include <cmath>

#include "pipes/pipe_spectrum.h"
#include "pipes/zones.h"
#include "recipe_fixture.h"

namespace loftbeat::pipes {
namespace {

TEST(Feet, AreReadAsTheyAreWritten) {
  EXPECT_DOUBLE_EQ(feet_from("8"), 8);
  EXPECT_DOUBLE_EQ(feet_from("16"), 16);
  EXPECT_DOUBLE_EQ(feet_from("2 2/3"), 8 / 3.0);
  EXPECT_DOUBLE_EQ(feet_from("10 2/3"), 32 / 3.0);
  EXPECT_DOUBLE_EQ(feet_from("1/2"), 0.5);
  for (const char* wrong : {"", " ", "x", "8'", "2 2", "2/", "/3", "2 /3", "2 2/0", "0/3", "-8",
                            "8 ", "123", "1 2/3/4", "999999999999999999"})
    EXPECT_EQ(feet_from(wrong), 0) << wrong;
}

TEST(Zones, HoldEveryKeyOnceAndNeverCrossAC) {
  int key = kLowestKey;
  for (const Zone& zone : zones()) {
    EXPECT_EQ(zone.lowest, key);
    EXPECT_GE(zone.root, zone.lowest);
    EXPECT_LE(zone.root, zone.highest);
    for (int inner = zone.lowest + 1; inner <= zone.highest; ++inner)
      EXPECT_TRUE(inner % 12 != 0 || inner == 108) << inner;
    for (; key <= zone.highest; ++key) EXPECT_EQ(&zone_of(key), &zone);
  }
  EXPECT_EQ(key, kHighestKey + 1);
}

TEST(IntendedPitch, BreaksBackWhereNoPipeIsShortEnough) {
  for (const Rank& rank : shipped_recipes().ranks) {
    for (int key = kLowestKey; key <= kHighestKey; ++key) {
      const double ratio = key_hz(key) / key_hz(zone_of(key).root);
      for (const double hz : intended_hz(rank, key))
        EXPECT_LE(hz / ratio, kHighestPipeHz * 1.01) << rank.id << " " << key;
    }
  }
  Rank rank = plain_rank();
  rank.steps = {{0, {2}}};
  EXPECT_NEAR(intended_hz(rank, 96)[0], kHighestPipeHz, 0.01);
  EXPECT_NEAR(intended_hz(rank, 97)[0], key_hz(97) * 2, 0.01);
}

// What a recipe and its seeds do to the pitch of a pipe, all keys and pipes. What the length of a
// loop adds is printed by the tests of samples and measured in tests/reference/pipes.
TEST(Tuning, KeepsEveryPipeNearItsIntendedPitch) {
  for (const Rank& rank : shipped_recipes().ranks) {
    for (int key = kLowestKey; key <= kHighestKey; ++key) {
      const Zone& zone = zone_of(key);
      const std::vector<double> sounded = steady_sound(rank, zone).pipe_hz;
      const std::vector<double> meant = intended_hz(rank, zone.root);
      ASSERT_EQ(sounded.size(), meant.size());
      for (std::size_t i = 0; i < meant.size(); ++i) {
        const double off = 1200 * std::log2(sounded[i] / meant[i]) + key_cents(rank, key);
        EXPECT_LE(std::abs(off), 2.3) << rank.id << " key " << key;
      }
    }
  }
}

// Ranks of one pitch that are drawn together must not stand in the same place.
TEST(Tuning, KeepsRanksOfOnePitchApart) {
  const Recipes recipes = shipped_recipes();
  for (const Rank& a : recipes.ranks) {
    for (const Rank& b : recipes.ranks) {
      const bool alike = a.steps.size() == 1 && b.steps.size() == 1 && a.feet == b.feet &&
                         a.family != organ::Family::voice && b.family != organ::Family::voice;
      if (&a == &b || !alike) continue;
      const double apart = a.offset_cents + a.tuning_cents - b.offset_cents - b.tuning_cents;
      EXPECT_GE(std::abs(apart), 0.29) << a.id << " and " << b.id;
    }
  }
}

TEST(IntendedPitch, FollowsTheStepsOfAMixture) {
  const auto recipes = parse_recipes(kSmallFile, "small.toml");
  ASSERT_TRUE(recipes.ok());
  const Rank& rank = *recipes->find("break-ii");
  EXPECT_NEAR(intended_hz(rank, 59)[0], key_hz(59) * 4, 1e-6);
  EXPECT_NEAR(intended_hz(rank, 60)[0], key_hz(60) * 2, 1e-6);
  EXPECT_NEAR(intended_hz(rank, 60)[1], key_hz(60) * 3, 1e-6);
}

}  // namespace
}  // namespace loftbeat::pipes
