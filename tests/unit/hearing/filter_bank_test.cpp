#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

std::vector<float> chord(const std::vector<Partial>& partials, std::size_t count) {
  std::vector<float> samples(count);
  for (std::size_t i = 0; i < count; ++i) {
    double x = 0;
    for (const Partial& p : partials) {
      x += 20e-6 * std::sqrt(2 * power_from_level(p.level_db)) *
           std::sin(2 * std::numbers::pi * p.hz * static_cast<double>(i) / kSampleRateHz);
    }
    samples[i] = static_cast<float>(x);
  }
  return samples;
}

// The two ways to a spectrum, by formula and through the filters, must meet.
TEST(FilterBank, AgreesWithTheLineSpectrum) {
  const std::vector<Partial> partials = {{65.4, 70}, {131, 64},  {262, 60}, {660, 66},
                                         {1320, 55}, {3100, 50}, {9000, 40}};
  const BandLevels computed = bands_of_partials(partials);
  const BandLevels analysed = bands_of_samples(chord(partials, 6 * 48000));
  for (std::size_t i = 0; i < kBandCount; ++i) {
    if (computed[i] < 30) continue;  // 40 dB down: the lowest filters ring longer than 0.2 s
    EXPECT_NEAR(analysed[i], computed[i], 0.1) << kNominalHz[i];
  }
}

TEST(FilterBank, BlocksOfAnyLengthGiveTheSame) {
  std::mt19937 random(7);
  const std::vector<float> samples = chord({{440, 60}, {880, 50}}, 30000);
  FilterBank whole;
  whole.feed(samples);
  FilterBank pieces;
  for (std::size_t at = 0; at < samples.size();) {
    const std::size_t length = std::min<std::size_t>(random() % 2000, samples.size() - at);
    pieces.feed(std::span(samples).subspan(at, length));
    at += length;
  }
  EXPECT_EQ(whole.take_levels(), pieces.take_levels());
}

TEST(FilterBank, NothingFedIsSilence) {
  FilterBank bank;
  EXPECT_EQ(bank.take_levels(), silence());
  EXPECT_EQ(bands_of_samples({}), silence());
  EXPECT_EQ(bands_of_samples(std::vector<float>(kSettlingSamples, 1.0F)), silence());
  EXPECT_EQ(bands_of_samples(std::vector<float>(48000)), silence());
}

TEST(FilterBank, TakingStartsAfresh) {
  FilterBank bank;
  bank.skip(chord({{1000, 80}}, 48000));
  bank.feed(std::vector<float>(48000));
  static_cast<void>(bank.take_levels());
  bank.feed(std::vector<float>(48000));
  EXPECT_LT(total_level(bank.take_levels()), 0);
}

}  // namespace
}  // namespace loftbeat::hearing
