// Parts of a plan as plans of their own. What is expected follows from the plans written here.

#include "practice/drill.h"

#include <gtest/gtest.h>

#include "plan/route.h"
#include "simulate/invented_hymn.h"

namespace loftbeat::practice {
namespace {

struct Hymn {
  music::Score score = simulate::invented_hymn({}, 1);  // four lines
  plan::Plan plan;
  Hymn() {
    plan.file = "test.plan.toml";
    plan.tempo_bpm = 80;
    plan.verses = 4;
    plan.play_over.kind = plan::PlayOverKind::first_and_last;
    plan.join = plan::Join{plan::JoinKind::hold_and_lift, 3, 1, 0};
  }
};

TEST(Drill, APlayOverIsFollowedByTheFirstLineOfVerseOne) {
  Hymn hymn;
  hymn.plan.amen = true;
  hymn.plan.verse_plans[3].unaccompanied = true;
  const auto drill = play_over_drill(hymn.plan, hymn.score);
  ASSERT_TRUE(drill.ok()) << to_string(drill.error());
  const auto route = plan::make_route(drill->plan, hymn.score);
  ASSERT_TRUE(route.ok()) << to_string(route.error());
  ASSERT_EQ(route->passes.size(), 2U);
  EXPECT_EQ(route->passes[0].kind, plan::PassKind::play_over);
  ASSERT_EQ(route->passes[1].spans.size(), 1U);
  EXPECT_EQ(route->passes[1].spans[0], route->phrases[0].span);
  EXPECT_EQ(*route->joins[0].span_beats, 4);
}

TEST(Drill, AJoinHasTheLineBeforeAndTheLineAfterWithTheirStops) {
  Hymn hymn;
  hymn.plan.verse_plans[2].registration.stops = std::vector<std::string>{"Principal 4"};
  hymn.plan.verse_plans[2].join_after = plan::Join{plan::JoinKind::hold_and_lift, 5, 2, 0};
  hymn.plan.verse_plans[3].registration.stops = std::vector<std::string>{"Fifteenth 2"};
  hymn.plan.verse_plans[3].moves_at = plan::MovesAt{plan::MovesAtKind::phrase_end, 2, 0};
  const auto drill = join_drill(hymn.plan, hymn.score, 2);
  ASSERT_TRUE(drill.ok()) << to_string(drill.error());
  const auto route = plan::make_route(drill->plan, hymn.score);
  ASSERT_TRUE(route.ok()) << to_string(route.error());
  ASSERT_EQ(route->passes.size(), 2U);
  EXPECT_EQ(route->passes[0].spans[0], route->phrases[3].span);
  EXPECT_EQ(route->passes[1].spans[0], route->phrases[0].span);
  EXPECT_EQ(*route->joins[0].span_beats, 7);
  EXPECT_EQ(drill->plan.verse_plans.at(1).registration.stops->front(), "Principal 4");
  EXPECT_EQ(drill->plan.verse_plans.at(2).registration.stops->front(), "Fifteenth 2");
  EXPECT_NE(drill->words.find("line 4 of verse 2"), std::string::npos) << drill->words;
}

TEST(Drill, RefrainsEndAVerse) {
  Hymn hymn;
  hymn.plan.refrain_phrases = {2};
  hymn.plan.verse_plans[1].phrases = {1, 3};
  const auto drill = join_drill(hymn.plan, hymn.score, 1);
  ASSERT_TRUE(drill.ok());
  EXPECT_EQ(drill->plan.verse_plans.at(1).phrases, std::vector<int>{2});
}

TEST(Drill, EveryJoinOfRandomPlansCanBeDrilled) {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Hymn hymn;
    hymn.score = simulate::invented_hymn(simulate::invented_shape(seed), seed);
    hymn.plan.verse_plans[2].broadening =
        plan::Broadening{{hymn.score.bars[hymn.score.bars.size() / 2].number, 1, 0}, 80};
    for (int verse = 1; verse < 4; ++verse) {
      const auto drill = join_drill(hymn.plan, hymn.score, verse);
      ASSERT_TRUE(drill.ok()) << seed << ": " << to_string(drill.error());
      EXPECT_TRUE(plan::make_route(drill->plan, hymn.score).ok()) << seed;
    }
    ASSERT_TRUE(play_over_drill(hymn.plan, hymn.score).ok()) << seed;
  }
}

TEST(Drill, WhatIsNotThereIsTold) {
  Hymn hymn;
  const auto beyond = join_drill(hymn.plan, hymn.score, 4);
  ASSERT_FALSE(beyond.ok());
  EXPECT_NE(to_string(beyond.error()).find("1 to 3"), std::string::npos);
  EXPECT_FALSE(join_drill(hymn.plan, hymn.score, 0).ok());
  hymn.plan.verse_plans[2].unaccompanied = true;
  EXPECT_FALSE(join_drill(hymn.plan, hymn.score, 1).ok());
  hymn.plan.play_over.kind = plan::PlayOverKind::none;
  const auto none = play_over_drill(hymn.plan, hymn.score);
  ASSERT_FALSE(none.ok());
  EXPECT_NE(to_string(none.error()).find("play-over"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::practice
