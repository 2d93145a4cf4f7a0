#include <gtest/gtest.h>

#include "plan/read.h"
#include "plan/route.h"
#include "tunes.h"

namespace loftbeat::plan {
namespace {

Plan plan_of(const std::string& rest) {
  const auto plan = parse_plan("score = \"a\"\n" + rest, "x.plan.toml");
  if (!plan) {
    ADD_FAILURE() << to_string(plan.error());
    return {};
  }
  return *plan;
}

std::vector<RouteJoin> joins_of(const std::string& rest) {
  const auto route = make_route(plan_of(rest), common_metre_tune());
  if (!route) {
    ADD_FAILURE() << to_string(route.error());
    return {};
  }
  return route->joins;
}

TEST(RouteJoins, the_plans_join_and_the_one_after_the_play_over) {
  const auto joins = joins_of(
      "verses = 2\nplay-over = \"whole\"\njoin = \"3+2\"\njoin-after-play-over = \"bar\"\n");
  ASSERT_EQ(joins.size(), 2U);
  EXPECT_EQ(joins[0].span_beats, 3);
  EXPECT_TRUE(joins[0].after_play_over);
  EXPECT_EQ(joins[1].span_beats, 5);
  EXPECT_FALSE(joins[1].after_play_over || joins[1].with_interlude);
}

TEST(RouteJoins, the_play_over_takes_the_plans_join_if_it_has_none) {
  EXPECT_EQ(joins_of("verses = 1\nplay-over = \"whole\"\njoin = \"3+2\"\n")[0].span_beats, 5);
}

TEST(RouteJoins, a_verse_may_have_its_own) {
  const auto joins = joins_of(
      "verses = 3\nplay-over = \"none\"\njoin = \"3+2\"\n[verse.2]\njoin-after = \"bar+1\"\n");
  EXPECT_EQ(joins[0].span_beats, 5);
  EXPECT_EQ(joins[1].span_beats, 7);
}

TEST(RouteJoins, without_a_plan_nothing_is_claimed) {
  const auto joins = joins_of("verses = 2\nplay-over = \"none\"\n");
  ASSERT_EQ(joins.size(), 1U);
  EXPECT_FALSE(joins[0].join || joins[0].span_beats);
}

TEST(RouteJoins, an_interlude_is_counted_in) {
  const auto joins = joins_of(
      "verses = 3\nplay-over = \"none\"\njoin = \"3+2\"\n"
      "[[interlude]]\nafter-verse = 1\nbeats = 8\n[[interlude]]\nafter-verse = 2\n");
  ASSERT_EQ(joins.size(), 4U);
  EXPECT_EQ(joins[0].span_beats, 13);
  EXPECT_TRUE(joins[0].with_interlude && joins[1].with_interlude);
  EXPECT_FALSE(joins[1].join || joins[1].span_beats);
  EXPECT_TRUE(joins[2].join);
  EXPECT_FALSE(joins[2].span_beats);  // of any length
}

TEST(RouteJoins, the_amen_is_joined_freely) {
  const auto joins = joins_of("verses = 1\nplay-over = \"none\"\njoin = \"3+2\"\namen = true\n");
  ASSERT_EQ(joins.size(), 1U);
  EXPECT_FALSE(joins[0].join || joins[0].span_beats);
}

// A play-over of the first line ends on the line's last chord, not on the tune's.
TEST(RouteJoins, by_the_bar_after_a_play_over_of_one_line) {
  const auto joins = joins_of("verses = 1\nplay-over = [1]\njoin = \"bar\"\n");
  EXPECT_EQ(joins[0].span_beats, 3);
}

TEST(RouteJoins, plan_join_speaks_for_verses_that_were_found) {
  const Plan plan = plan_of("join = \"3+2\"\n[verse.7]\njoin-after = \"bar\"\n");
  const auto tune = common_metre_tune();
  const auto verse = [&](int number) { return *verse_pass(plan, tune, tune.phrases, number); };
  EXPECT_EQ(plan_join(plan, tune, verse(6), verse(7)).span_beats, 5);
  EXPECT_EQ(plan_join(plan, tune, verse(7), verse(8)).span_beats, 3);
}

}  // namespace
}  // namespace loftbeat::plan
