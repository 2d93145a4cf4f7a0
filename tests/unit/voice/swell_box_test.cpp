#include "voice/rt/swell_box.h"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "voice/rt/event.h"

namespace loftbeat::voice::rt {
namespace {

// The level, dB re input, of a steady tone through the box.
double measured_db(double opening, double hz) {
  SwellBox box({-12, 1500}, opening);
  double in = 0;
  double out = 0;
  for (int block = 0; block < 1500; ++block) {
    std::array<float, kBlockFrames> samples{};
    for (int i = 0; i < kBlockFrames; ++i)
      samples[static_cast<std::size_t>(i)] = static_cast<float>(
          std::sin(2 * std::numbers::pi * hz * (block * kBlockFrames + i) / kSampleRate));
    const std::array<float, kBlockFrames> before = samples;
    box.process(samples.data());
    for (std::size_t i = 0; block >= 750 && i < samples.size(); ++i) {
      in += static_cast<double>(before[i]) * static_cast<double>(before[i]);
      out += static_cast<double>(samples[i]) * static_cast<double>(samples[i]);
    }
  }
  return 10 * std::log10(out / in);
}

TEST(SwellBox, OpenItPassesSamplesUnchanged) {
  SwellBox box({-12, 1500});
  std::array<float, kBlockFrames> samples{};
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i] = static_cast<float>(i) * 0.01F;
  const auto before = samples;
  box.process(samples.data());
  EXPECT_EQ(samples, before);
}

TEST(SwellBox, LevelAndLowPassAreThoseOfTheFormula) {
  // Butterworth of second order: -10 lg(1 + (f/fc)^4).
  for (const double opening : {0.0, 0.25, 0.5, 0.75}) {
    for (const double hz : {62.5, 250.0, 1000.0, 2000.0, 4000.0}) {
      const double cutoff = 1500 / (1 - opening);
      const double expected = -12 * (1 - opening) - 10 * std::log10(1 + std::pow(hz / cutoff, 4));
      // The digital filter squeezes the scale towards half the rate: -0.9 dB at 4 kHz with 1.5 kHz.
      EXPECT_NEAR(measured_db(opening, hz), expected, hz < 3000 ? 0.25 : 1.0)
          << opening << " " << hz;
    }
  }
}

TEST(SwellBox, ShuttingAtOnceMovesTheLevelByLessThan6DbIn50Ms) {
  SwellBox box({-40, 20000}, 1);
  box.move_to(0);
  std::vector<double> levels;
  for (int block = 0; block < 400; ++block) {
    std::array<float, kBlockFrames> samples;
    samples.fill(1);
    box.process(samples.data());
    levels.push_back(20 * std::log10(std::abs(static_cast<double>(samples.back()))));
  }
  constexpr std::size_t kBlocksIn50Ms = 38;
  for (std::size_t i = 0; i + kBlocksIn50Ms < levels.size(); ++i)
    ASSERT_LT(std::abs(levels[i + kBlocksIn50Ms] - levels[i]), 6.0);
  EXPECT_NEAR(levels.back(), -40, 0.1);
}

TEST(SwellBox, OddPositionsAreClamped) {
  SwellBox box({-12, 1500}, 7);
  EXPECT_EQ(box.opening(), 1);
  box.move_to(std::nan(""));
  std::array<float, kBlockFrames> samples{};
  box.process(samples.data());
  EXPECT_EQ(box.opening(), 1);
}

}  // namespace
}  // namespace loftbeat::voice::rt
