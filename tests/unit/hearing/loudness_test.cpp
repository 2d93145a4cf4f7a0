#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>

#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

BandLevels random_levels(std::mt19937& random) {
  std::uniform_real_distribution<double> level(-20, 110);
  BandLevels levels;
  for (double& l : levels) l = level(random);
  return levels;
}

constexpr SoundField kFields[] = {SoundField::free, SoundField::diffuse};

TEST(Loudness, SilenceIsZero) {
  for (const SoundField field : kFields) {
    const Loudness heard = loudness(silence(), field);
    EXPECT_EQ(heard.sone, 0);
    EXPECT_EQ(heard.specific, Loudness().specific);
    EXPECT_FALSE(sharpness_acum(heard).has_value());
    EXPECT_EQ(share_of_loudness(heard, BandMask().set()), 0);
  }
}

TEST(Loudness, PartsAddUpToTheWhole) {
  std::mt19937 random(1);
  for (int i = 0; i < 500; ++i) {
    const Loudness heard = loudness(random_levels(random), kFields[i % 2]);
    const double parts = std::accumulate(heard.band_sone.begin(), heard.band_sone.end(), 0.0);
    EXPECT_NEAR(parts, heard.sone, 1e-9 * heard.sone);
    EXPECT_NEAR(sone_between(heard, 0, kCriticalBandCount - 1), heard.sone, 1e-9 * heard.sone);
    EXPECT_NEAR(share_of_loudness(heard, BandMask().set()), 1.0, 1e-9);
    // The samples' sum is a coarse integral of the same curve: it misses the narrow peaks' slopes.
    const double sum = std::accumulate(heard.specific.begin(), heard.specific.end(), 0.0) / 10;
    EXPECT_NEAR(sum, heard.sone, 0.06 * heard.sone);
    for (const double n : heard.specific) EXPECT_GE(n, 0);
  }
}

// More sound in any band never makes any stretch of the Bark scale softer, nor the whole.
TEST(Loudness, GrowsWithTheLevelOfEveryBand) {
  std::mt19937 random(2);
  for (int i = 0; i < 2000; ++i) {
    BandLevels levels = random_levels(random);
    const Loudness before = loudness(levels, kFields[i % 2]);
    levels[random() % kBandCount] += 0.1 + static_cast<double>(random() % 100) / 10;
    const Loudness after = loudness(levels, kFields[i % 2]);
    EXPECT_GE(after.sone, before.sone - 1e-9);
    for (std::size_t k = 0; k < Loudness::kSteps; ++k) {
      EXPECT_GE(after.specific[k], before.specific[k] - 1e-9);
    }
  }
}

TEST(Loudness, TenPhonMoreIsTwiceTheSone) {
  EXPECT_DOUBLE_EQ(phon_from_sone(1), 40);
  for (const double sone : {1.0, 3.0, 20.0}) {
    EXPECT_NEAR(phon_from_sone(2 * sone) - phon_from_sone(sone), 10, 1e-9);
  }
  EXPECT_EQ(phon_from_sone(0), 3);
  double last = 0;
  for (double sone = 0.01; sone < 2; sone += 0.01) {
    EXPECT_GT(phon_from_sone(sone), last);
    last = phon_from_sone(sone);
  }
}

TEST(Loudness, NumbersThatAreNoneDoNoHarm) {
  BandLevels levels;
  levels.fill(std::numeric_limits<double>::quiet_NaN());
  EXPECT_EQ(loudness(levels, SoundField::free).sone, 0);
  levels.fill(1e4);
  EXPECT_GT(loudness(levels, SoundField::diffuse).sone, 1000);
  levels.fill(std::numeric_limits<double>::infinity());
  static_cast<void>(loudness(levels, SoundField::free));  // ends
}

TEST(Loudness, BandsOfTheMethod) {
  EXPECT_EQ(critical_band_of(5), 0U);
  EXPECT_EQ(critical_band_of(kBand1000Hz), 8U);
  EXPECT_EQ(critical_band_of(27), 19U);
  EXPECT_EQ(critical_band_at(440), 4U);
  EXPECT_EQ(critical_band_at(1), 0U);
  EXPECT_EQ(critical_band_at(20000), 19U);
  EXPECT_EQ(critical_band_at(1779), kUpperBandFirst);
  EXPECT_EQ(critical_band_at(1778), kUpperBandFirst - 1);
  EXPECT_EQ(upper_limit_bark(kUpperBandFirst - 1), 12.3);
  EXPECT_EQ(upper_limit_bark(19), 24.0);
}

TEST(Sharpness, IsARatioThatBassLowers) {
  BandLevels bright;
  bright.fill(-60);
  bright[22] = 60;
  BandLevels with_bass = bright;
  with_bass[8] = 80;
  const auto alone = loudness(bright, SoundField::free);
  const auto full = loudness(with_bass, SoundField::free);
  EXPECT_GT(full.sone, alone.sone);
  EXPECT_LT(*sharpness_acum(full), *sharpness_acum(alone));
}

// Asked for: under 20 us. The bound is ten times that, so that a busy machine with sanitizers
// passes; the benchmark has the figure.
TEST(Loudness, IsQuick) {
  std::mt19937 random(3);
  const BandLevels levels = random_levels(random);
  double sum = 0;
  const auto start = std::chrono::steady_clock::now();
  for (int i = 0; i < 1000; ++i) sum += loudness(levels, SoundField::diffuse).sone;
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
  EXPECT_GT(sum, 0);
  EXPECT_LT(spent.count() / 1000, 200e-6);
  RecordProperty("microseconds", std::to_string(spent.count() * 1000));
}

}  // namespace
}  // namespace loftbeat::hearing
