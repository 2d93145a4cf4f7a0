#include <gtest/gtest.h>

#include "window/prepare/tempo_tap.h"

namespace loftbeat::window {
namespace {

TEST(TempoTapTest, TakesTheMedianOfTheTaps) {
  TempoTap taps;
  EXPECT_FALSE(taps.tap(0));
  EXPECT_FALSE(taps.tap(0.8));
  EXPECT_NEAR(*taps.tap(1.6), 75, 1e-9);
  EXPECT_NEAR(*taps.tap(2.4), 75, 1e-9);
  EXPECT_NEAR(*taps.tap(3.5), 75, 1e-9);  // one late tap does not count
}

TEST(TempoTapTest, BeginsAnewAfterAPause) {
  TempoTap taps;
  for (const double at : {0.0, 0.5, 1.0}) static_cast<void>(taps.tap(at));
  EXPECT_FALSE(taps.tap(10));
  EXPECT_FALSE(taps.tap(11));
  EXPECT_NEAR(*taps.tap(12), 60, 1e-9);
}

TEST(TempoTapTest, TapsAtOneMomentAreNoTempo) {
  TempoTap taps;
  for (int i = 0; i < 5; ++i) EXPECT_FALSE(taps.tap(1.0));
}

}  // namespace
}  // namespace loftbeat::window
