#include "timing/play_over.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

Scene play_over_and_verse(const BeatTime& play_over, double verse_period) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "play-over", play_over);
  add_pass(made, "1", [=](int chord) { return 60 + verse_period * chord; });
  return made;
}

TEST(PlayOver, ComparesItsTempoWithVerseOne) {
  const Scene made = play_over_and_verse([](int chord) { return 60.0 / 80 * chord; }, 60.0 / 76);
  const auto measured = made.measure().play_over;
  ASSERT_TRUE(measured);
  EXPECT_NEAR(*measured->tempo_bpm, 80, 1e-6);
  EXPECT_NEAR(*measured->verse_tempo_bpm, 76, 1e-6);
  EXPECT_NEAR(*measured->tempo_difference_percent, 5.263, 1e-3);
  EXPECT_NEAR(*measured->slowing_percent, 0, 1e-6);
}

TEST(PlayOver, MeasuresTheSlowingAtItsEnd) {
  // 0.75 s a beat, the last four beats 0.80 s.
  const Scene made = play_over_and_verse(
      [](int chord) { return 0.75 * chord + 0.05 * std::max(0, chord - 27); }, 0.75);
  EXPECT_NEAR(*made.measure().play_over->slowing_percent, 6.25, 1e-3);
}

TEST(PlayOver, KnowsNoLoudnessWithoutAnOrgan) {
  const Scene made = play_over_and_verse([](int chord) { return 0.75 * chord; }, 0.75);
  const auto measured = made.measure().play_over;
  EXPECT_FALSE(measured->loudness_sone);
  EXPECT_EQ(measured->loudness_sone.reason, "a review does not reckon it from the stops");
  EXPECT_FALSE(measured->mean_velocity);
}

TEST(PlayOver, GivesVelocitiesOnlyWhereTheyVary) {
  Scene made = play_over_and_verse([](int chord) { return 0.75 * chord; }, 0.75);
  made.take.velocity_varies = true;
  for (int chord = 0; chord < 32; ++chord)
    for (int voice = 0; voice < 4; ++voice) key(made, 0, chord, voice).velocity = 50;
  const auto measured = made.measure().play_over;
  EXPECT_DOUBLE_EQ(*measured->mean_velocity, 50);
  EXPECT_DOUBLE_EQ(*measured->verse_mean_velocity, 64);
}

TEST(PlayOver, IsUnknownIfNoneWasPlayed) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  const auto measured = made.measure().play_over;
  EXPECT_FALSE(measured);
  EXPECT_EQ(measured.reason, "no play-over was played");
}

}  // namespace
}  // namespace loftbeat::timing
