#include "voice/rt/limiter.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include <gtest/gtest.h>

namespace loftbeat::voice::rt {
namespace {

constexpr float kCeiling = 0.5F;

struct Pair {
  std::vector<float> left;
  std::vector<float> right;
};

Pair noise(std::size_t frames, double amplitude, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> value(-amplitude, amplitude);
  Pair pair{std::vector<float>(frames), std::vector<float>(frames)};
  for (std::size_t i = 0; i < frames; ++i) {
    // Bursts, so that the gain has to go down and come back.
    const double swell = 0.2 + std::pow(std::sin(static_cast<double>(i) / 3000), 8) * 4;
    pair.left[i] = static_cast<float>(value(random) * swell);
    pair.right[i] = static_cast<float>(value(random) * swell);
  }
  return pair;
}

TEST(Limiter, WhatStaysUnderTheCeilingLeavesUnchangedAnd64FramesLater) {
  const Pair in = noise(20'000, 0.118, 1);
  Pair out = in;
  Limiter limiter(kCeiling);
  limiter.process(out.left.data(), out.right.data(), out.left.size());
  ASSERT_LT(*std::max_element(in.left.begin(), in.left.end()), kCeiling);
  for (std::size_t i = Limiter::kDelayFrames; i < out.left.size(); ++i) {
    ASSERT_EQ(out.left[i], in.left[i - Limiter::kDelayFrames]);
    ASSERT_EQ(out.right[i], in.right[i - Limiter::kDelayFrames]);
  }
}

TEST(Limiter, NothingLeavesAboveTheCeiling) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Pair sound = noise(20'000, 3, seed);
    Limiter limiter(kCeiling);
    for (std::size_t at = 0; at < sound.left.size(); at += 37)
      limiter.process(sound.left.data() + at, sound.right.data() + at,
                      std::min<std::size_t>(37, sound.left.size() - at));
    for (std::size_t i = 0; i < sound.left.size(); ++i)
      ASSERT_LE(std::max(std::abs(sound.left[i]), std::abs(sound.right[i])), kCeiling * 1.000001F);
  }
}

TEST(Limiter, ALonePeakLeavesAtTheCeilingAndTheGainComesBackAsStated) {
  std::vector<float> left(48'000, 0.0F);
  std::vector<float> right(48'000, 0.0F);
  left[100] = 1;
  for (std::size_t i = 0; i < right.size(); ++i) right[i] = 0.4F;
  Limiter limiter(kCeiling);
  limiter.process(left.data(), right.data(), left.size());
  EXPECT_NEAR(left[100 + Limiter::kDelayFrames], 0.5, 1e-6);
  // The other channel tells the gain, which rises by no more than 2 dB in 50 ms.
  for (std::size_t i = 200; i + 2400 < right.size(); i += 100)
    ASSERT_LE(20 * std::log10(right[i + 2400] / right[i]), 2.001);
  EXPECT_FLOAT_EQ(right.back(), 0.4F);
}

TEST(Limiter, BlocksOfAnyLengthGiveTheSame) {
  Pair whole = noise(5000, 2, 9);
  Pair parts = whole;
  Limiter one(kCeiling);
  one.process(whole.left.data(), whole.right.data(), whole.left.size());
  Limiter other(kCeiling);
  for (std::size_t at = 0, step = 1; at < parts.left.size(); at += step, step = step % 97 + 1)
    other.process(parts.left.data() + at, parts.right.data() + at,
                  std::min(step, parts.left.size() - at));
  EXPECT_EQ(whole.left, parts.left);
  EXPECT_EQ(whole.right, parts.right);
}

TEST(Limiter, WhatIsNoNumberLeavesAsSilence) {
  std::vector<float> left(400, 0.1F);
  std::vector<float> right(400, 0.1F);
  left[10] = std::numeric_limits<float>::quiet_NaN();
  right[20] = std::numeric_limits<float>::infinity();
  Limiter limiter(kCeiling);
  limiter.process(left.data(), right.data(), left.size());
  for (std::size_t i = 0; i < left.size(); ++i)
    ASSERT_TRUE(std::isfinite(left[i]) && std::isfinite(right[i]));
  EXPECT_EQ(left[10 + Limiter::kDelayFrames], 0.0F);
  EXPECT_FLOAT_EQ(left.back(), 0.1F);
}

}  // namespace
}  // namespace loftbeat::voice::rt
