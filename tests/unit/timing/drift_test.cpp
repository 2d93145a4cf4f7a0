#include "timing/drift.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

plan::Join five_beats() {
  plan::Join join;
  join.hold_beats = 3;
  join.lift_beats = 2;
  return join;
}

TEST(Drift, GrowsAgainstTheSetTempo) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return 1.01 * chord; });
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_NEAR(*pass.beats[16].drift_ms, 160, 1e-6);
  EXPECT_NEAR(*pass.beats[16].drift_beats, 0.16, 1e-9);
  EXPECT_NEAR(*pass.end_drift_ms, 290, 1e-6);  // beat 29 of 0 to 31
}

TEST(Drift, IsAnchoredOnThePulseAndNotOnOneBeat) {
  // The first full bar's own beat comes 80 ms late; all others are on the pulse.
  Scene made = scene({4, 8, 1, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord == 1 ? 0.08 : 0.0); });
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_NEAR(*pass.beats[1].drift_ms, 80, 1);
  EXPECT_NEAR(*pass.beats[20].drift_ms, 0, 1);
}

TEST(Drift, TakesConsistentBreathsOutAndKeepsHesitations) {
  Scene made = scene({4, 8, 0, 4});
  const auto breathing = [](int chord) { return chord + (chord >= 16 ? 0.3 : 0.0); };
  add_pass(made, "1", breathing);
  add_pass(made, "2", [&](int chord) { return 40 + breathing(chord) + (chord >= 20 ? 0.8 : 0.0); });
  const Timing timing = made.measure();
  EXPECT_NEAR(*timing.passes[0].beats[20].drift_ms, 0, 1e-6);
  EXPECT_NEAR(*timing.passes[1].beats[18].drift_ms, 0, 1e-6);
  EXPECT_NEAR(*timing.passes[1].beats[24].drift_ms, 800, 1e-6);
}

TEST(Drift, TakesPlannedHoldsOut) {
  Scene made = scene({4, 8, 0, 4});
  made.route.holds.push_back(
      {15 * kTicksPerQuarter, 16 * kTicksPerQuarter, plan::FermataKind::hold, 2});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 16 ? 2.0 : 0.0); });
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_NEAR(*pass.beats[20].drift_ms, 0, 1e-6);
  EXPECT_TRUE(pass.hesitations.empty());
}

TEST(Drift, IsAnchoredAnewAfterAFreeFermata) {
  Scene made = scene({4, 8, 0, 4});
  made.route.holds.push_back(
      {15 * kTicksPerQuarter, 16 * kTicksPerQuarter, plan::FermataKind::free, 0});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 16 ? 3.7 : 0.0); });
  EXPECT_NEAR(*made.measure().passes[0].beats[20].drift_ms, 0, 1e-6);
}

TEST(RunningDrift, GoesOnThroughTheJoins) {
  // The join is planned at 5 beats from the last chord (31 s) and taken 0.4 s late.
  Scene made = scene({4, 8, 0, 4});
  made.plan.join = five_beats();
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  add_pass(made, "2", [](int chord) { return 36.4 + chord; });
  const Timing timing = made.measure();
  EXPECT_NEAR(*timing.passes[1].beats[4].running_drift_ms, 400, 1e-6);
  EXPECT_NEAR(*timing.passes[1].beats[4].drift_ms, 0, 1e-6);
}

}  // namespace
}  // namespace loftbeat::timing
