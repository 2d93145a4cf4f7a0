#include "timing/slowing.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

Scene slowing_verse(double extra_per_beat) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1",
           [=](int chord) { return 0.75 * chord + extra_per_beat * std::max(0, chord - 27); });
  return made;
}

TEST(EndSlowing, GivesTheWorkedNumber) {
  const auto slowing = end_slowing(slowing_verse(0.05).fit(0).pulse, std::nullopt);
  ASSERT_TRUE(slowing);
  EXPECT_NEAR(slowing->percent, 6.25, 1e-6);
  EXPECT_DOUBLE_EQ(slowing->from, 27);
  EXPECT_NEAR(slowing->slowest_factor(), 1 + 2 * 0.05 / 0.75, 1e-9);
}

TEST(EndSlowing, IsNegativeWhereTheEndHurries) {
  const auto slowing = end_slowing(slowing_verse(-0.05).fit(0).pulse, std::nullopt);
  EXPECT_LT(slowing->percent, 0);
  EXPECT_DOUBLE_EQ(slowing->slowest_factor(), 1);
}

TEST(EndSlowing, IsSureOnlyBeyondToleranceAndUncertainty) {
  EndSlowing slowing;
  slowing.percent = 6;
  slowing.uncertainty_percent = 1;
  EXPECT_TRUE(surely_slows(slowing, 3));
  slowing.uncertainty_percent = 1.6;
  EXPECT_FALSE(surely_slows(slowing, 3));
}

TEST(EndSlowing, WeighsWhatTheNextVerseTells) {
  // Six beats: before the end 1.00 s a beat with an uncertainty set by the jitter; the verse says
  // 0.96 s with the same: the mean counts.
  Scene made = scene({3, 2, 0, 0});
  add_pass(made, "play-over", [](int chord) { return chord + 0.1 * std::max(0, chord - 2); });
  Pulse pulse = made.fit(0).pulse;
  pulse.usual_jitter_s = 0.020;
  const auto alone = end_slowing(pulse, std::nullopt);
  ASSERT_TRUE(alone);
  const auto both = end_slowing(pulse, KnownPeriod{0.96, alone->before_uncertainty_s});
  EXPECT_NEAR(both->before_s, (alone->before_s + 0.96) / 2, 1e-9);
  EXPECT_LT(both->before_uncertainty_s, alone->before_uncertainty_s);
}

TEST(EndSlowing, LeavesTheJoinItsRuler) {
  // The last four beats fall evenly; the next verse comes five unslowed beats after the last chord.
  Scene made = scene({4, 8, 0, 4});
  made.plan.join = plan::Join{};
  made.plan.join->hold_beats = 3;
  made.plan.join->lift_beats = 2;
  add_pass(made, "1", [](int chord) {
    const double late = std::max(0, chord - 27);
    return chord + 0.02 * late * late;
  });
  add_pass(made, "2", [](int chord) { return 31.32 + 5 + chord; });
  const JoinMeasures join = made.measure().joins[0];
  EXPECT_NEAR(*join.span_beats, 5, 1e-6);
  EXPECT_EQ(join.verdict, JoinVerdict::in_time);
}

}  // namespace
}  // namespace loftbeat::timing
