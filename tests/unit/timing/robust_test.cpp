#include "timing/robust.h"

#include <gtest/gtest.h>

namespace loftbeat::timing {
namespace {

TEST(Median, IsTheMeanOfTheMiddleTwoIfEven) {
  EXPECT_DOUBLE_EQ(median({3, 1, 10, 2}), 2.5);
  EXPECT_DOUBLE_EQ(median({3, 1, 10}), 3);
}

TEST(Midmean, DropsAQuarterAtEitherEnd) {
  EXPECT_DOUBLE_EQ(midmean({100, 0, 1, 2, 3}), 2);
  EXPECT_DOUBLE_EQ(midmean({0, 1, 0, 1}), 0.5);
  EXPECT_DOUBLE_EQ(midmean({7}), 7);
}

TEST(RobustSpread, IsNotTurnedByOneOddValue) {
  EXPECT_NEAR(robust_spread({0, 1, 2, 3, 100}, 2), 1.4826, 1e-9);
}

TEST(HalfQuartileDistance, InterpolatesBetweenRanks) {
  EXPECT_DOUBLE_EQ(half_quartile_distance({1, 2, 3, 4, 5}), 1);
}

TEST(TheilSen, GivesTheWorkedNumber) {
  const std::vector<LinePoint> points = {{0, 0, 0}, {1, 1, 0}, {2, 2, 0}, {3, 6, 0}};
  const auto slope = theil_sen(points);
  ASSERT_TRUE(slope);
  EXPECT_DOUBLE_EQ(slope->value, 1.5);
  EXPECT_EQ(slope->pairs, 6u);
}

TEST(TheilSen, TakesNoSlopeAcrossSegments) {
  const std::vector<LinePoint> points = {{0, 0, 0}, {1, 1, 0}, {2, 7, 1}, {3, 8, 1}};
  const auto slope = theil_sen(points);
  ASSERT_TRUE(slope);
  EXPECT_DOUBLE_EQ(slope->value, 1);
  EXPECT_EQ(slope->pairs, 2u);
  EXPECT_DOUBLE_EQ(slope->uncertainty, 0);
}

TEST(TheilSen, KnowsNothingOfLonePoints) {
  const std::vector<LinePoint> points = {{0, 0, 0}, {1, 1, 1}};
  EXPECT_FALSE(theil_sen(points));
}

TEST(TheilSen, LooksNoFurtherThanItsReach) {
  const std::vector<LinePoint> points = {{0, 0, 0}, {1, 1, 0}, {2, 2, 0}, {3, 6, 0}};
  const auto slope = theil_sen(points, 1);
  ASSERT_TRUE(slope);
  EXPECT_EQ(slope->pairs, 3u);
}

}  // namespace
}  // namespace loftbeat::timing
