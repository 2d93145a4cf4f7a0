#include "timing/lag.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

Scene with_voice_late(int voice, int late_ms) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  for (int chord = 0; chord < 32; ++chord)
    key(made, 0, chord, voice).on += std::chrono::milliseconds(late_ms);
  return made;
}

TEST(PedalLag, IsToldByThePedalChannel) {
  Scene made = with_voice_late(3, 41);
  for (int chord = 0; chord < 32; ++chord) {
    key(made, 0, chord, 3).channel = 2;
    key(made, 0, chord, 3).channels = 1u << 2;
  }
  made.take.pedal_channels = 1u << 2;
  const PassMeasures pass = made.measure().passes[0];
  ASSERT_TRUE(pass.pedal_lag);
  EXPECT_NEAR(pass.pedal_lag->median_ms, 41, 1e-6);
  EXPECT_EQ(pass.pedal_lag->count, 32);
  EXPECT_EQ(pass.feet, FeetSource::pedal_channel);
}

TEST(PedalLag, FallsBackToTheLowestVoice) {
  const PassMeasures pass = with_voice_late(3, -30).measure().passes[0];
  ASSERT_TRUE(pass.pedal_lag);
  EXPECT_NEAR(pass.pedal_lag->median_ms, -30, 1e-6);
  EXPECT_EQ(pass.feet, FeetSource::bass_voice);
}

TEST(PedalLag, IsUnknownWithoutPedal) {
  Scene made = with_voice_late(3, 30);
  made.alignment.passes[0].textures = {plan::Texture::no_pedal};
  const PassMeasures pass = made.measure().passes[0];
  EXPECT_FALSE(pass.pedal_lag);
  EXPECT_EQ(pass.feet, FeetSource::none);
}

TEST(LeftHandLag, IsWhatTheLowerStaffHasWithoutTheFeet) {
  const PassMeasures pass = with_voice_late(2, 25).measure().passes[0];
  ASSERT_TRUE(pass.left_hand_lag);
  EXPECT_NEAR(pass.left_hand_lag->median_ms, 25, 1e-6);
}

TEST(LeftHandLag, IsNotMovedByLateFeet) {
  EXPECT_NEAR(with_voice_late(3, 80).measure().passes[0].left_hand_lag->median_ms, 0, 1e-6);
}

TEST(LagUncertainty, FollowsTheWorkedNumber) {
  EXPECT_NEAR(lag_uncertainty_ms({0, 20, 25}), 7.43, 0.01);
}

}  // namespace
}  // namespace loftbeat::timing
