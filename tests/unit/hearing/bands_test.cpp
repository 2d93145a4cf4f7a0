#include <gtest/gtest.h>

#include <cmath>

#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

TEST(Bands, SilenceAddsNothing) {
  EXPECT_EQ(power_sum(60.0, kSilenceDb), 60.0);
  EXPECT_EQ(power_sum(kSilenceDb, kSilenceDb), kSilenceDb);
  EXPECT_EQ(total_level(silence()), kSilenceDb);
  EXPECT_EQ(share_of_power(silence(), BandMask().set()), 0);
}

TEST(Bands, TwiceTheSoundIsThreeDecibels) {
  BandLevels levels;
  for (std::size_t i = 0; i < kBandCount; ++i) levels[i] = 30.0 + static_cast<double>(i);
  const BandLevels twice = power_sum(levels, levels);
  for (std::size_t i = 0; i < kBandCount; ++i) EXPECT_NEAR(twice[i] - levels[i], 3.0103, 1e-4);
  EXPECT_NEAR(total_level(twice) - total_level(levels), 3.0103, 1e-4);
  EXPECT_NEAR(total_level(raised(levels, 7)), total_level(levels) + 7, 1e-12);
}

TEST(Bands, SharesOfPowerAddUp) {
  BandLevels levels;
  levels.fill(50);
  BandMask low;
  for (std::size_t i = 0; i < 7; ++i) low.set(i);
  EXPECT_NEAR(share_of_power(levels, low), 0.25, 1e-12);
  EXPECT_NEAR(share_of_power(levels, ~low), 0.75, 1e-12);
}

TEST(Bands, TenBandsMakeADecade) {
  for (std::size_t i = 0; i + 10 < kBandCount; ++i) {
    EXPECT_NEAR(mid_hz(i + 10) / mid_hz(i), 10.0, 1e-9);
  }
  for (std::size_t i = 0; i + 1 < kBandCount; ++i) {
    EXPECT_NEAR(upper_edge_hz(i), lower_edge_hz(i + 1), 1e-9 * upper_edge_hz(i));
  }
}

TEST(Filters, PassTheMiddleAndHalveTheEdges) {
  for (std::size_t i = 0; i < kBandCount; ++i) {
    EXPECT_NEAR(level_from_power(filter_power(i, mid_hz(i))), 0.0, 0.05) << kNominalHz[i];
    // From 6.3 kHz up the standard's filters lean to one side, as digital ones near half the
    // sampling rate do.
    const double leaning = kNominalHz[i] > 5000 ? 1.6 : 0.0;
    const double lower = level_from_power(filter_power(i, lower_edge_hz(i)));
    const double upper = level_from_power(filter_power(i, upper_edge_hz(i)));
    EXPECT_NEAR(lower, -3.0, 0.75 + leaning) << kNominalHz[i];
    EXPECT_NEAR(upper, -3.0, 0.75 + leaning) << kNominalHz[i];
    EXPECT_LT(filter_power(i, mid_hz(i) / 4), 1e-4);
    EXPECT_EQ(filter_power(i, 24000), 0);
    EXPECT_EQ(filter_power(i, 0), 0);
  }
}

TEST(Centroid, WorkedNumbers) {
  const Partial equal[] = {{200, 60}, {400, 60}};
  const Partial weaker[] = {{200, 60}, {400, 50}};
  EXPECT_NEAR(*centroid_hz(equal), 300, 1e-9);
  EXPECT_NEAR(*centroid_hz(weaker), 218.18, 0.01);
  EXPECT_FALSE(centroid_hz(silence()).has_value());
  EXPECT_FALSE(centroid_hz(std::span<const Partial>()).has_value());
  BandLevels one = silence();
  one[kBand1000Hz] = 20;
  EXPECT_NEAR(*centroid_hz(one), 1000, 1e-9);
}

TEST(Weighting, AWeightedLevelOfABandIsItsWeight) {
  BandLevels one = silence();
  one[6] = 70;  // 100 Hz
  EXPECT_NEAR(a_weighted_level(one), 70 - 19.14, 0.01);
  EXPECT_EQ(a_weighted_level(silence()), kSilenceDb);
}

TEST(Weighting, KOfNothingIsSilence) {
  EXPECT_EQ(k_weighted_level({}), kSilenceDb);
  const Partial beyond[] = {{30000, 0}};
  EXPECT_EQ(k_weighted_level(beyond), kSilenceDb);
}

TEST(Percentiles, WorkedNumber) {
  const double values[] = {3, 1, 5, 2, 4};
  EXPECT_EQ(*exceeded_for(values, 25), 4);
  EXPECT_EQ(*exceeded_for(values, 0), 5);
  EXPECT_EQ(*exceeded_for(values, 100), 1);
  EXPECT_NEAR(*exceeded_for(values, 5), 4.8, 1e-12);
  EXPECT_FALSE(exceeded_for({}, 5).has_value());
}

}  // namespace
}  // namespace loftbeat::hearing
