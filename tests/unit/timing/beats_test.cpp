#include "timing/beats.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

constexpr Tick kQuarter = kTicksPerQuarter;

follow::AlignedPass pass_over(std::vector<TickSpan> spans) {
  follow::AlignedPass pass;
  pass.spans = std::move(spans);
  return pass;
}

TEST(PassWay, LaysStretchesEndToEnd) {
  const PassWay way(pass_over({{0, 4 * kQuarter}, {12 * kQuarter, 16 * kQuarter}}), kQuarter);
  EXPECT_DOUBLE_EQ(way.place_of(13 * kQuarter).value(), 5);
  EXPECT_DOUBLE_EQ(way.length(), 8);
  EXPECT_FALSE(way.place_of(5 * kQuarter));
}

TEST(PassWay, FollowsAStretchThatComesTwice) {
  follow::AlignedPass pass = pass_over({{0, 2 * kQuarter}, {0, 2 * kQuarter}});
  for (int i = 0; i < 4; ++i) {
    const Instant at = instant_from_seconds(i);
    pass.onsets.push_back({(i % 2) * kQuarter, at, at, 1, 1});
  }
  const auto struck = struck_places(pass, PassWay(pass, kQuarter));
  ASSERT_EQ(struck.size(), 4u);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_DOUBLE_EQ(struck[i].x, struck[i].t);
}

TEST(BeatGrid, InterpolatesAndFlagsWhatIsNotStruck) {
  Scene made = scene({4, 1, 0, 0});
  add_pass(made, "1", [](int chord) { return 1.0 + 0.6 * chord; });
  miss(made, 0, 1);
  const FittedPass fitted = made.fit(0);
  ASSERT_EQ(fitted.grid.size(), 4u);
  EXPECT_FALSE(fitted.grid[1].struck);
  EXPECT_NEAR(fitted.grid[1].t.value(), 1.6, 1e-9);
  EXPECT_TRUE(fitted.grid[2].struck);
}

TEST(BeatGrid, CountsAnUpbeatBackFromItsEnd) {
  Scene made = scene({4, 2, 1, 0});
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  const Timing timing = made.measure();
  ASSERT_EQ(timing.passes[0].beats.size(), 9u);
  EXPECT_EQ(timing.passes[0].beats[0].bar, "0");
  EXPECT_DOUBLE_EQ(timing.passes[0].beats[0].beat, 4);
  EXPECT_EQ(timing.passes[0].beats[1].bar, "1");
  EXPECT_DOUBLE_EQ(first_full_bar(made.score, made.fit(0).way).value(), 1);
}

TEST(BeatGrid, LeavesUnstruckBeatsOutOfEveryStatistic) {
  // Chord 5 is missed; its neighbours are uneven, so its interpolated time would change the
  // figures.
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord % 3 == 0 ? 0.02 : 0.0); });
  miss(made, 0, 5);
  const Timing timing = made.measure();
  EXPECT_FALSE(timing.passes[0].beats[5].struck);
  EXPECT_EQ(timing.passes[0].beats[5].pulse_ms, 0);
  EXPECT_EQ(made.fit(0).pulse.beats.size(), 31u);
}

}  // namespace
}  // namespace loftbeat::timing
