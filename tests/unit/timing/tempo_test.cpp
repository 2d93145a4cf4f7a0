#include "timing/tempo.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

TEST(Tempo, IsToldAgainstTheSetOne) {
  Scene made = scene({4, 8, 0, 4});
  made.plan.tempo_bpm = 72;
  add_pass(made, "1", [](int chord) { return 0.75 * chord; });
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_NEAR(*pass.tempo_bpm, 80, 1e-6);
  EXPECT_NEAR(*pass.tempo_offset_percent, 11.111, 1e-3);
}

TEST(Tempo, LeavesBreathsOut) {
  Scene made = scene({4, 8, 0, 2});
  add_pass(made, "1", [](int chord) { return chord + 0.4 * (chord / 8); });
  EXPECT_NEAR(*made.measure().passes[0].tempo_bpm, 60, 1e-6);
}

TEST(Tempo, HasNoOffsetWithoutASetOne) {
  Scene made = scene({4, 8, 0, 4});
  made.plan.tempo_bpm = 0;
  add_pass(made, "1", [](int chord) { return 0.75 * chord; });
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_FALSE(pass.tempo_offset_percent);
  EXPECT_EQ(pass.tempo_offset_percent.reason, "no tempo is set");
  EXPECT_FALSE(pass.beats[3].drift_ms);
}

// 0.80 s a beat for the first third of the way, 0.84 s for the last.
double slower_at_the_end(int chord) {
  const int slow = std::max(0, chord - 16);
  return 0.80 * chord + 0.04 * slow;
}

TEST(Trend, ComparesTheLastThirdWithTheFirst) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", slower_at_the_end);
  EXPECT_NEAR(*made.measure().passes[0].trend_percent, -4.762, 1e-3);
}

TEST(Trend, LeavesAPlannedBroadeningOut) {
  Scene made = scene({4, 8, 0, 4});
  made.route.passes.push_back({"1", plan::PassKind::verse, {}, {}, 0, false, {}, 80});
  made.route.passes[0].broaden_from = 16 * kTicksPerQuarter;
  add_pass(made, "1", slower_at_the_end);
  made.alignment.passes[0].route_pass = 0;
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_NEAR(*pass.trend_percent, 0, 1e-6);
  EXPECT_NEAR(*pass.tempo_bpm, 75, 1e-6);
  EXPECT_TRUE(pass.hesitations.empty());
}

TEST(Steadiness, IsTheSpreadOfTheIntervals) {
  // Intervals 0.98 and 1.02 in turn: standard deviation 0.02 * sqrt(n / (n - 1)), n = 31.
  Scene made = scene({4, 8, 0, 0});
  add_pass(made, "1", [](int chord) { return chord - (chord % 2 == 1 ? 0.02 : 0.0); });
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_NEAR(*pass.steadiness_percent, 2.03, 0.02);
  EXPECT_NEAR(*pass.steadiness_uncertainty_percent, *pass.steadiness_percent / 7.746, 1e-3);
}

TEST(Steadiness, IsNotSpoiltByOneHesitation) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 8 ? 1.0 : 0.0); });
  EXPECT_NEAR(*made.measure().passes[0].steadiness_percent, 0, 1e-6);
}

}  // namespace
}  // namespace loftbeat::timing
