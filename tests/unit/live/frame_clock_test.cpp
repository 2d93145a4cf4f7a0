// The line through the times of the device's calls. Expected values follow from the calls made
// here: a true rate and lateness that is known.

#include "live/rt/frame_clock.h"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

namespace loftbeat::live::rt {
namespace {

constexpr double kRate = 48000;
constexpr int kPeriod = 128;

struct Calls {
  double true_rate = kRate;
  double most_late_s = 0;
};

// Feeds `seconds` of calls; gives the largest error, in seconds, of the place of a moment in the
// last part, less the mean lateness.
double worst_error(const Calls& calls, double seconds_long, double judged_from) {
  FrameClock clock(kRate);
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> late(0, calls.most_late_s);
  double worst = 0;
  const auto count = static_cast<std::int64_t>(seconds_long * calls.true_rate / kPeriod);
  for (std::int64_t i = 0; i < count; ++i) {
    const double due = static_cast<double>(i * kPeriod) / calls.true_rate;
    const double at = due + (calls.most_late_s > 0 ? late(random) : 0);
    clock.feed(i * kPeriod, kPeriod, std::llround(at * 1e9) + 1'000'000'000'000);
    if (due < judged_from) continue;
    const double moment = due + 0.001;
    const double place = clock.frame_at(std::llround(moment * 1e9) + 1'000'000'000'000);
    const double error = place / calls.true_rate - moment;
    worst = std::max(worst, std::abs(error + calls.most_late_s / 2));
  }
  return worst;
}

TEST(FrameClock, IsExactWhereCallsComeInTime) { EXPECT_LT(worst_error({}, 5, 0.1), 1e-6); }

TEST(FrameClock, LearnsTheDevicesOwnSpeed) {
  // Crystals are off by up to some 100 ppm (common practice, no source).
  EXPECT_LT(worst_error({kRate * (1 + 100e-6), 0}, 20, 10), 5e-6);
  EXPECT_LT(worst_error({kRate * (1 - 100e-6), 0}, 20, 10), 5e-6);
}

TEST(FrameClock, SmoothsLateCalls) { EXPECT_LT(worst_error({kRate, 0.001}, 60, 5), 0.2e-3); }

TEST(FrameClock, BothWaysAgree) {
  FrameClock clock(kRate);
  for (std::int64_t i = 0; i < 1000; ++i) clock.feed(i * kPeriod, kPeriod, i * 2'666'667 + 5);
  for (const double frame : {0.0, 100'000.0, 128'000.25})
    EXPECT_NEAR(clock.frame_at(clock.ns_at(frame)), frame, 1e-3);
}

TEST(FrameClock, BeginsAnewAfterTheDeviceWasHeldUp) {
  FrameClock clock(kRate);
  for (std::int64_t i = 0; i < 1000; ++i) clock.feed(i * kPeriod, kPeriod, i * 2'666'667);
  EXPECT_EQ(clock.restarts(), 0U);
  const std::int64_t held_up = 300'000'000;
  for (std::int64_t i = 1000; i < 1010; ++i)
    clock.feed(i * kPeriod, kPeriod, i * 2'666'667 + held_up);
  EXPECT_EQ(clock.restarts(), 1U);
  EXPECT_NEAR(clock.frame_at(1009 * 2'666'667LL + held_up), 1009 * kPeriod, 1);
}

}  // namespace
}  // namespace loftbeat::live::rt
