#include "simulate/random.h"

#include <gtest/gtest.h>

#include <cmath>

namespace loftbeat::simulate {
namespace {

TEST(Random, RepeatsItselfUnderOneSeedAndStream) {
  Random a(7, "jitter");
  Random b(7, "jitter");
  for (int i = 0; i < 100; ++i) EXPECT_EQ(a.uniform(), b.uniform());
}

TEST(Random, StreamsAndSeedsAreIndependent) {
  Random a(7, "jitter");
  Random b(7, "breaths");
  Random c(8, "jitter");
  const double first = a.uniform();
  EXPECT_NE(first, b.uniform());
  EXPECT_NE(first, c.uniform());
}

// Mean 1/2 and variance 1/12 of the even distribution: textbook facts.
TEST(Random, UniformHasItsMeanAndVariance) {
  Random random(1, "test");
  constexpr int kDraws = 100000;
  double sum = 0;
  double squares = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double drawn = random.uniform();
    ASSERT_GE(drawn, 0);
    ASSERT_LT(drawn, 1);
    sum += drawn;
    squares += drawn * drawn;
  }
  const double mean = sum / kDraws;
  EXPECT_NEAR(mean, 0.5, 4 * std::sqrt(1.0 / 12 / kDraws));
  EXPECT_NEAR(squares / kDraws - mean * mean, 1.0 / 12, 0.002);
}

// The cut normal's standard deviation is worked out in the header: 0.98658 of what was asked.
TEST(Random, HumanHasTheCutNormalsSpread) {
  Random random(2, "test");
  constexpr int kDraws = 100000;
  double sum = 0;
  double squares = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double drawn = random.human(10);
    ASSERT_LE(std::fabs(drawn), 30);
    sum += drawn;
    squares += drawn * drawn;
  }
  EXPECT_NEAR(sum / kDraws, 0, 4 * 10 / std::sqrt(kDraws));
  EXPECT_NEAR(std::sqrt(squares / kDraws), 9.8658, 4 * 10 / std::sqrt(2.0 * kDraws));
}

TEST(Random, ChanceAndBelowKeepTheirShares) {
  Random random(3, "test");
  int yes = 0;
  int counts[5] = {};
  for (int i = 0; i < 50000; ++i) {
    if (random.chance(0.03)) ++yes;
    ++counts[random.below(5)];
  }
  EXPECT_NEAR(yes / 50000.0, 0.03, 4 * std::sqrt(0.03 * 0.97 / 50000));
  for (const int count : counts) EXPECT_NEAR(count / 50000.0, 0.2, 0.01);
}

}  // namespace
}  // namespace loftbeat::simulate
