// The estimators against plainly written ones and against published worked figures.

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include <gtest/gtest.h>

#include "timing/robust.h"

namespace loftbeat::timing {
namespace {

// Source: the definition by Theil (1950) and Sen (1968): the median of the slopes of all pairs.
// Written without any of the library's parts.
double plain_theil_sen(const std::vector<LinePoint>& points) {
  std::vector<double> slopes;
  for (const LinePoint& a : points)
    for (const LinePoint& b : points)
      if (a.x < b.x && a.segment == b.segment) slopes.push_back((b.t - a.t) / (b.x - a.x));
  std::sort(slopes.begin(), slopes.end());
  const std::size_t n = slopes.size();
  return n % 2 == 1 ? slopes[n / 2] : (slopes[n / 2 - 1] + slopes[n / 2]) / 2;
}

std::vector<LinePoint> noisy_beats(unsigned seed, int count, int a_line) {
  std::mt19937 engine(seed);
  std::vector<LinePoint> points;
  for (int i = 0; i < count; ++i) {
    const double noise = static_cast<double>(engine() % 40001) * 1e-6 - 0.02;
    const double slip = engine() % 12 == 0 ? 0.4 : 0.0;
    points.push_back({1.0 * i, 0.7 * i + noise + slip + 0.3 * (i / a_line), i / a_line});
  }
  return points;
}

TEST(TheilSenOracle, AgreesWithThePlainDefinition) {
  for (unsigned seed = 1; seed <= 50; ++seed) {
    const auto points = noisy_beats(seed, 16 + static_cast<int>(seed), 8);
    const auto fast = theil_sen(points);
    ASSERT_TRUE(fast);
    EXPECT_DOUBLE_EQ(fast->value, plain_theil_sen(points)) << "seed " << seed;
  }
}

// Least squares on clean data: there both must agree. Source: the normal equations.
TEST(TheilSenOracle, AgreesWithLeastSquaresOnCleanData) {
  std::vector<LinePoint> points;
  double sx = 0, st = 0, sxx = 0, sxt = 0;
  const int n = 24;
  for (int i = 0; i < n; ++i) {
    const double t = 2.5 + 0.8125 * i;
    points.push_back({1.0 * i, t, 0});
    sx += i;
    st += t;
    sxx += 1.0 * i * i;
    sxt += i * t;
  }
  const double least_squares = (n * sxt - sx * st) / (n * sxx - sx * sx);
  EXPECT_NEAR(theil_sen(points)->value, least_squares, 1e-12);
}

// Source: the uncertainty of a least-squares slope, sigma / sqrt(sum (x - mean x)^2) (any text on
// regression). That Theil-Sen in short lines scatters more is found here by repetition itself: the
// scatter of 400 slopes is compared with what is stated.
TEST(TheilSenUncertainty, IsWhatRepetitionShows) {
  std::mt19937 engine(7);
  std::normal_distribution<double> noise(0, 0.015);
  double squares = 0, stated = 0;
  const int repeats = 400;
  for (int r = 0; r < repeats; ++r) {
    std::vector<LinePoint> points;
    for (int i = 0; i < 32; ++i) points.push_back({1.0 * i, 0.7 * i + noise(engine), i / 8});
    const auto slope = theil_sen(points);
    squares += (slope->value - 0.7) * (slope->value - 0.7);
    stated += slope->uncertainty * slope->uncertainty;
  }
  // 400 repeats know a standard deviation to 3.5 %; the bound is four times that.
  EXPECT_NEAR(std::sqrt(squares / stated), 1, 0.14);
}

// Source: consistency factor 1 / Phi^-1(3/4) = 1.4826 of the median deviation (any text on robust
// statistics, from memory); checked here on the quantiles of the normal distribution itself.
TEST(RobustSpreadOracle, EstimatesTheStandardDeviationOfNormalValues) {
  std::mt19937 engine(3);
  std::normal_distribution<double> noise(0, 2.0);
  std::vector<double> values;
  for (int i = 0; i < 20000; ++i) values.push_back(noise(engine));
  EXPECT_NEAR(robust_spread(values, 0), 2.0, 0.06);
  EXPECT_NEAR(2 * half_quartile_distance(values) / 1.349, 2.0, 0.06);
}

// A quarter of all points may lie anywhere: the breakdown point of Theil-Sen is 1 - 1/sqrt(2),
// 29.3 % (Rousseeuw & Leroy 1987, from memory).
TEST(TheilSenBreakdown, IsNotTurnedByAQuarterOfOddPoints) {
  std::vector<LinePoint> points;
  for (int i = 0; i < 40; ++i) points.push_back({1.0 * i, i % 4 == 3 ? 1000.0 : 0.5 * i, 0});
  EXPECT_NEAR(theil_sen(points)->value, 0.5, 0.02);
}

}  // namespace
}  // namespace loftbeat::timing
