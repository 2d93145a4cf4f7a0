#include "timing/joins.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

// Verses at one second a beat; the last chord of verse k comes 31 s after its begin, and the next
// verse follows `spans[k]` beats after it.
Scene verses(const std::vector<double>& spans) {
  Scene made = scene({4, 8, 0, 4});
  double begin = 0;
  for (std::size_t v = 0; v <= spans.size(); ++v) {
    add_pass(made, std::to_string(v + 1), [begin](int chord) { return begin + chord; });
    if (v < spans.size()) begin += 31 + spans[v];
  }
  return made;
}

Scene planned(const std::vector<double>& spans) {
  Scene made = verses(spans);
  made.plan.join = plan::Join{};
  made.plan.join->hold_beats = 3;
  made.plan.join->lift_beats = 2;
  return made;
}

JoinMeasures only_join(double span) { return planned({span}).measure().joins.at(0); }

TEST(Join, TellsCountAndPhaseApart) {
  const JoinMeasures join = only_join(6.1);
  EXPECT_NEAR(*join.span_beats, 6.1, 1e-6);
  EXPECT_NEAR(*join.planned_span_beats, 5, 1e-9);
  EXPECT_EQ(*join.count_error_beats, 1);
  EXPECT_NEAR(*join.phase_error_beats, 0.1, 1e-6);
  EXPECT_NEAR(*join.phase_error_ms, 100, 1e-3);
  EXPECT_EQ(join.verdict, JoinVerdict::miscounted);
}

TEST(Join, IsInTimeWithinFivePercentOfItsSpan) {
  // 5 % of five seconds is 250 ms.
  EXPECT_EQ(only_join(5.24).verdict, JoinVerdict::in_time);
  EXPECT_EQ(only_join(4.76).verdict, JoinVerdict::in_time);
  EXPECT_EQ(only_join(5.26).verdict, JoinVerdict::late);
  EXPECT_EQ(only_join(4.74).verdict, JoinVerdict::early);
  EXPECT_NEAR(*only_join(5).tolerance_ms, 250, 1e-6);
}

TEST(Join, IsInTimeWithinSixtyMillisecondsAtLeast) {
  Scene made = planned({5.059});
  made.plan.tolerances.join_percent = 0;
  EXPECT_EQ(made.measure().joins[0].verdict, JoinVerdict::in_time);
  made = planned({5.061});
  made.plan.tolerances.join_percent = 0;
  EXPECT_EQ(made.measure().joins[0].verdict, JoinVerdict::late);
}

TEST(Join, BrokenPulseIsEarlyOrLateByTheWholeError) {
  const JoinMeasures join = only_join(5.6);
  EXPECT_EQ(*join.count_error_beats, 0);
  EXPECT_NEAR(*join.phase_error_beats, 0.6, 1e-6);
  EXPECT_EQ(join.verdict, JoinVerdict::late);
}

TEST(Join, SaysWhenItCannotTell) {
  // Stamps on a lattice half a second wide: one standard uncertainty is root two times 0.25 s over
  // root three = 204 ms, so an error of 300 ms (in time within 250) decides nothing.
  Scene made = planned({5.3});
  made.take.stamp_uncertainty = std::chrono::milliseconds(250);
  const JoinMeasures join = made.measure().joins[0];
  EXPECT_NEAR(*join.uncertainty_ms, 204.1, 0.1);
  EXPECT_EQ(join.verdict, JoinVerdict::cannot_tell);
  EXPECT_FALSE(join.why.empty());
}

TEST(Join, TellsHoldLiftAndSilence) {
  // The last chord goes up after 0.9 s (scene.h).
  const JoinMeasures join = only_join(5);
  EXPECT_NEAR(*join.hold_beats, 0.9, 1e-6);
  EXPECT_NEAR(*join.lift_beats, 4.1, 1e-6);
  EXPECT_NEAR(join.silence_s, 4.1, 1e-6);
  EXPECT_DOUBLE_EQ(*join.planned_hold_beats, 3);
}

TEST(Join, OverlapIsNegativeSilence) {
  Scene made = planned({5});
  made.alignment.passes[0].last_release = instant_from_seconds(36.2);
  EXPECT_NEAR(made.measure().joins[0].silence_s, -0.2, 1e-6);
}

TEST(Join, IsMeasuredInTheEndedPassesPulse) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return 0.5 * chord; });
  add_pass(made, "2", [](int chord) { return 15.5 + 2.5 + 0.8 * chord; });
  EXPECT_NEAR(*made.measure().joins[0].span_beats, 5, 1e-6);
}

TEST(Join, WithoutAPlanIsJudgedForLikenessOnly) {
  const Timing timing = verses({5.2, 5.25, 7.2, 5.2}).measure();
  EXPECT_EQ(timing.joins[0].verdict, JoinVerdict::alike);
  EXPECT_EQ(timing.joins[1].verdict, JoinVerdict::alike);
  EXPECT_EQ(timing.joins[2].verdict, JoinVerdict::unlike);
  EXPECT_NEAR(*timing.joins[2].likeness_beats, 2, 1e-6);
  EXPECT_FALSE(timing.joins[0].count_error_beats);
  EXPECT_DOUBLE_EQ(usual_span(timing.joins).value(), 5.0);
}

TEST(Join, OddFirstJoinDoesNotMakeTheOthersOdd) {
  const Timing timing = verses({7, 5, 5, 5}).measure();
  EXPECT_EQ(timing.joins[0].verdict, JoinVerdict::unlike);
  EXPECT_EQ(timing.joins[3].verdict, JoinVerdict::alike);
}

TEST(Join, AloneAndUnplannedCannotBeJudged) {
  const JoinMeasures join = verses({5}).measure().joins[0];
  EXPECT_EQ(join.verdict, JoinVerdict::cannot_tell);
  EXPECT_FALSE(join.why.empty());
}

TEST(Join, AfterThePlayOverStandsApart) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "play-over", [](int chord) { return 1.0 * chord; });
  add_pass(made, "1", [](int chord) { return 34.0 + chord; });
  add_pass(made, "2", [](int chord) { return 70.0 + chord; });
  add_pass(made, "3", [](int chord) { return 106.0 + chord; });
  const Timing timing = made.measure();
  EXPECT_TRUE(timing.joins[0].after_play_over);
  EXPECT_FALSE(timing.joins[0].likeness_beats);
  EXPECT_EQ(timing.joins[1].verdict, JoinVerdict::alike);
  EXPECT_EQ(timing.joins[2].verdict, JoinVerdict::alike);
}

TEST(Join, MissedLastChordIsStoodForByTheOneBefore) {
  Scene made = planned({5});
  miss(made, 0, 31);
  EXPECT_NEAR(*made.measure().joins[0].span_beats, 5, 1e-6);
}

TEST(Join, AfterAPassBrokenOffIsNotJudged) {
  Scene made = planned({5});
  for (int chord = 20; chord < 32; ++chord) miss(made, 0, chord);
  const JoinMeasures join = made.measure().joins[0];
  EXPECT_EQ(join.verdict, JoinVerdict::cannot_tell);
  EXPECT_FALSE(join.span_beats);
}

TEST(Join, IsNotMadeBetweenRuns) {
  Scene made = planned({5});
  made.alignment.passes[1].run = 2;
  EXPECT_TRUE(made.measure().joins.empty());
}

TEST(Settling, CountsBeatsUntilThePulse) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  add_pass(made, "2", [](int chord) {
    return 40 + chord + (chord == 0 ? 0.2 : chord == 1 ? 0.1 : 0.0);
  });
  EXPECT_NEAR(*made.measure().joins[0].settling_beats, 2, 1e-9);
}

}  // namespace
}  // namespace loftbeat::timing
