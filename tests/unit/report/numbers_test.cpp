#include "report/numbers.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace loftbeat::report {
namespace {

TEST(WriteNumber, SignsAndRounding) {
  EXPECT_EQ(write_number(-2.46, kSignedPercent), "−2.5 %");
  EXPECT_EQ(write_number(2.46, kSignedPercent), "+2.5 %");
  EXPECT_EQ(write_number(2.46, kPercent), "2.5 %");
  EXPECT_EQ(write_number(-0.04, kSignedPercent), "0.0 %");
  EXPECT_EQ(write_number(0.3, kSignedMs), "0 ms");
}

TEST(WriteShort, DropsZerosAtTheEnd) {
  EXPECT_EQ(write_short(3.0, kBeats), "3");
  EXPECT_EQ(write_short(2.5, kBeats), "2.5");
  EXPECT_EQ(write_short(100, kWhole), "100");
  EXPECT_EQ(write_short(-0.001, kBeats), "0");
}

TEST(WriteFigure, UnknownIsNeverZero) {
  EXPECT_EQ(write_figure({}, kMs), "–");
  EXPECT_EQ(write_figure(Measured<double>(std::nan("")), kMs), "–");
  EXPECT_EQ(write_figure(Measured<double>(std::numeric_limits<double>::infinity()), kMs), "–");
  EXPECT_EQ(write_figure(Measured<double>(0.0), kMs), "0 ms");
}

TEST(WriteSignedSpan, ChangesToSecondsAtOneSecond) {
  EXPECT_EQ(write_signed_span(240.4), "+240 ms");
  EXPECT_EQ(write_signed_span(-999.4), "−999 ms");
  EXPECT_EQ(write_signed_span(999.6), "+1.00 s");
  EXPECT_EQ(write_signed_span(-1240), "−1.24 s");
}

TEST(WriteClock, MinutesAndSeconds) {
  EXPECT_EQ(write_clock(65.26), "1:05.3");
  EXPECT_EQ(write_clock(0), "0:00.0");
  EXPECT_EQ(write_clock(59.96), "1:00.0");
}

}  // namespace
}  // namespace loftbeat::report
