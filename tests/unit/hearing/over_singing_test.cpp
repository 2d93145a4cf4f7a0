#include <gtest/gtest.h>

#include <random>

#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

constexpr SoundField kField = SoundField::diffuse;
const VoiceBand kTune = voice_band_of_tune(62, 74);

BandLevels only(std::size_t band, double level) {
  BandLevels levels = silence();
  levels[band] = level;
  return levels;
}

TEST(OverSinging, BandOfTheTune) {
  EXPECT_NEAR(kTune.lowest_hz, 146.83, 0.01);
  EXPECT_NEAR(kTune.highest_hz, 587.33, 0.01);
}

TEST(OverSinging, SilentOrganAddsNothing) {
  BandLevels singing;
  singing.fill(60);
  const auto heard = over_singing(silence(), singing, kTune, kField);
  EXPECT_EQ(heard.organ_sone, 0);
  EXPECT_EQ(heard.lead_sone, 0);
  EXPECT_EQ(heard.support_sone, 0);
  EXPECT_EQ(heard.exposure_sone, 0);
  EXPECT_EQ(heard.total_sone, heard.singing_sone);
}

TEST(OverSinging, WithoutSingingItIsTheOrgansOwn) {
  BandLevels organ;
  organ.fill(60);
  const auto heard = over_singing(organ, silence(), kTune, kField);
  const Loudness alone = loudness(organ, kField);
  EXPECT_EQ(heard.singing_sone, 0);
  EXPECT_DOUBLE_EQ(heard.total_sone, heard.organ_sone);
  EXPECT_DOUBLE_EQ(heard.exposure_sone, upper_band_sone(alone));
  // 160 Hz to 630 Hz are the singers', bands 1 to 6; the rest above is lead.
  EXPECT_DOUBLE_EQ(heard.support_sone, sone_between(alone, 1, 6));
  EXPECT_DOUBLE_EQ(heard.lead_sone, sone_between(alone, 7, 19));
}

TEST(OverSinging, EachPitchCountsWhereItLies) {
  BandLevels singing = silence();
  for (std::size_t i = 8; i < 23; ++i) singing[i] = 60 - static_cast<double>(i);
  const auto heard = [&](std::size_t band) {
    return over_singing(only(band, 60), singing, kTune, kField);
  };
  const auto fundamental = heard(13);  // 500 Hz
  const auto octave = heard(17);       // 1250 Hz
  const auto high = heard(20);         // 2500 Hz
  EXPECT_GT(fundamental.support_sone, 2 * fundamental.lead_sone);
  EXPECT_EQ(octave.support_sone, 0);
  EXPECT_GT(octave.lead_sone, 2 * fundamental.lead_sone);
  EXPECT_GT(octave.lead_sone, octave.exposure_sone);
  EXPECT_DOUBLE_EQ(high.exposure_sone, high.lead_sone);
}

// More people mask more, and never give anything back.
TEST(OverSinging, FallsWithTheSinging) {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> level(20, 80);
  for (int trial = 0; trial < 300; ++trial) {
    BandLevels organ;
    BandLevels singing;
    for (std::size_t i = 0; i < kBandCount; ++i) {
      organ[i] = level(random);
      singing[i] = level(random) - 30;
    }
    double last = over_singing(organ, silence(), kTune, kField).lead_sone;
    for (int people = 0; people < 4; ++people) {
      const auto heard = over_singing(organ, raised(singing, 10 * people), kTune, kField);
      EXPECT_GE(heard.lead_sone, -1e-9);
      EXPECT_GE(heard.support_sone, -1e-9);
      EXPECT_GE(heard.exposure_sone, -1e-9);
      EXPECT_LE(heard.exposure_sone, heard.lead_sone + 1e-9);
      EXPECT_LT(heard.lead_sone, last + 1e-9);
      last = heard.lead_sone;
    }
  }
}

}  // namespace
}  // namespace loftbeat::hearing
