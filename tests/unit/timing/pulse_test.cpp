#include "timing/pulse.h"

#include <cmath>

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

TEST(Pulse, TakesABreathOut) {
  Scene made = scene({4, 2, 0, 1});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 4 ? 0.3 : 0.0); });
  const Pulse pulse = made.fit(0).pulse;
  ASSERT_TRUE(pulse.known);
  EXPECT_NEAR(pulse.period_s, 1, 1e-9);
  ASSERT_EQ(pulse.cuts.size(), 1u);
  EXPECT_NEAR(pulse.cuts[0].extra_s.value(), 0.3, 1e-9);
  for (const PulseBeat& beat : pulse.beats) EXPECT_NEAR(beat.pulse_t, beat.t, 1e-9);
}

TEST(Pulse, BendsSlowlyWithTheTempo) {
  // Tempo swings by 4 % over 64 beats: the period grows by c = 0.04 * 2 pi / 64 s a beat at most.
  // A straight line through a bow of 12 beats is off by c * 12^2 / 12 = 47 ms at its ends.
  Scene made = scene({4, 16, 0, 4});
  const auto time = [](int chord) {
    return chord + 0.04 * 64 / 6.2832 * (1 - std::cos(6.2832 * chord / 64));
  };
  add_pass(made, "1", time);
  for (const PulseBeat& beat : made.fit(0).pulse.beats) {
    const bool within = beat.x >= 6 && beat.x <= 57;
    EXPECT_NEAR(beat.pulse_t, beat.t, within ? 0.024 : 0.0475) << "beat " << beat.x;
  }
}

TEST(Pulse, IsNeverRuledByTheLastTwoBeatsAlone) {
  // Both last beats are 30 % too long; the ruler for the join stays within half a percent.
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + 0.3 * std::max(0, chord - 29); });
  EXPECT_NEAR(made.fit(0).pulse.period_at(31), 1, 0.005);
}

TEST(Pulse, IsNotTiltedByAnInterruption) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 8 ? 1.5 : 0.0); });
  const Pulse pulse = made.fit(0).pulse;
  EXPECT_NEAR(pulse.period_s, 1, 1e-9);
  EXPECT_NEAR(pulse.period_at(8), 1, 1e-9);
  ASSERT_EQ(pulse.cuts.size(), 2u);
  EXPECT_EQ(pulse.cuts[0].kind, CutKind::interruption);
}

TEST(Pulse, PaysNoHeedToAGatheredUpbeat) {
  Scene made = scene({4, 8, 1, 4});
  add_pass(made, "1", [](int chord) { return chord - (chord == 0 ? 0.2 : 0.0); });
  const Pulse pulse = made.fit(0).pulse;
  EXPECT_NEAR(pulse.period_s, 1, 1e-9);
  EXPECT_FALSE(pulse.beats[0].used);
  EXPECT_NEAR(pulse.time_at(0), 0, 1e-9);
}

TEST(Pulse, SaysHowMuchItIsUncertain) {
  // Alternating by 10 ms: the robust spread of the beats about the pulse is 1.4826 * 10 ms.
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord % 2 == 0 ? 0.010 : -0.010); });
  const Pulse pulse = made.fit(0).pulse;
  EXPECT_NEAR(pulse.jitter_s, 0.0148, 0.003);
  EXPECT_GT(pulse.period_uncertainty(), 0.0);
  EXPECT_LT(pulse.period_uncertainty(), 0.002);
}

TEST(Pulse, IsUnknownForTwoChords) {
  Scene made = scene({2, 1, 0, 0});
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  EXPECT_FALSE(made.fit(0).pulse.known);
  EXPECT_FALSE(made.measure().passes[0].tempo_bpm);
}

}  // namespace
}  // namespace loftbeat::timing
