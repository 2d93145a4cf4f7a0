#include <gtest/gtest.h>

#include <cmath>

#include "organ/organ.h"

namespace loftbeat::organ {
namespace {

TEST(SwellBox, TheWorkedNumbers) {
  const SwellBox box;
  EXPECT_NEAR(box_gain_db(box, 0, 1500), -15.01, 0.005);
  EXPECT_NEAR(box_gain_db(box, 0.5, 1500), -6.26, 0.005);
}

TEST(SwellBox, OpenTakesNothing) {
  const SwellBox box;
  for (const double hz : {20.0, 1000.0, 20000.0}) EXPECT_EQ(box_gain_db(box, 1, hz), 0);
  EXPECT_TRUE(std::isinf(box_cutoff_hz(box, 1)));
}

TEST(SwellBox, OpeningItNeverMakesAnythingSofter) {
  const SwellBox box{-20, 900, 11};
  for (double hz = 25; hz < 16000; hz *= 1.4) {
    for (double position = -0.1; position < 1.1; position += 0.05) {
      EXPECT_LE(box_gain_db(box, position, hz), box_gain_db(box, position + 0.05, hz) + 1e-12);
      EXPECT_LE(box_gain_db(box, position, hz * 1.4), box_gain_db(box, position, hz) + 1e-12);
    }
  }
}

}  // namespace
}  // namespace loftbeat::organ
