#include "voice/pass_clock.h"

#include <cmath>

#include <gtest/gtest.h>

namespace loftbeat::voice {
namespace {

constexpr Tick kBeat = kTicksPerQuarter;

plan::RoutePass whole(Tick length) {
  plan::RoutePass pass;
  pass.spans = {{0, length}};
  return pass;
}

TEST(PassClock, ASteadyPassIsBeatsTimesTheirLength) {
  const plan::Route route;
  const plan::RoutePass pass = whole(8 * kBeat);
  const PassClock clock(route, pass, 90, kBeat);
  EXPECT_NEAR(clock.seconds(0, 3 * kBeat), 2, 1e-12);
  EXPECT_NEAR(clock.length_seconds(), 16.0 / 3, 1e-12);
}

// Integrated beat by beat in small steps, as an oracle for the formula.
TEST(PassClock, ABroadeningSlowsEvenlyOverTheBeats) {
  const plan::Route route;
  plan::RoutePass pass = whole(4 * kBeat);
  pass.broaden_from = 2 * kBeat;
  pass.broaden_percent = 50;
  const PassClock clock(route, pass, 60, kBeat);
  EXPECT_NEAR(clock.seconds(0, 2 * kBeat), 2, 1e-12);
  double time = 2;
  constexpr int kSteps = 20'000;
  for (int i = 0; i < kSteps; ++i) time += 2.0 / kSteps / (1 - 0.5 * (i + 0.5) / kSteps);
  EXPECT_NEAR(clock.length_seconds(), time, 1e-6);
  EXPECT_NEAR(clock.length_seconds(), 2 + 2 * std::log(2) / 0.5, 1e-12);
}

TEST(PassClock, HoldsPushBackWhatBeginsAfterThemInEverySpanThatHasThem) {
  plan::Route route;
  route.holds = {{kBeat, 2 * kBeat, plan::FermataKind::hold, 1.5}};
  plan::RoutePass pass = whole(4 * kBeat);
  pass.spans.push_back({0, 4 * kBeat});
  pass.spans.push_back({2 * kBeat, 4 * kBeat});
  const PassClock clock(route, pass, 60, kBeat);
  EXPECT_NEAR(clock.seconds(0, kBeat), 1, 1e-12);
  EXPECT_NEAR(clock.seconds(0, 2 * kBeat), 3.5, 1e-12);
  EXPECT_NEAR(clock.seconds(1, kBeat), 6.5, 1e-12);
  EXPECT_NEAR(clock.length_seconds(), 10 + 3, 1e-12);
}

}  // namespace
}  // namespace loftbeat::voice
