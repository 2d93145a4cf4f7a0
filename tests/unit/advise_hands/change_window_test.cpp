#include <gtest/gtest.h>

#include "advise/free_hand.h"
#include "consoles.h"

namespace loftbeat::advise {
namespace {

plan::Plan plan_at(double bpm, std::optional<plan::Join> join) {
  plan::Plan plan;
  plan.tempo_bpm = bpm;
  plan.join = join;
  return plan;
}

TEST(ChangeWindow, HoldAndLiftAtTheSetTempo) {
  const music::Score score = chorale();
  const plan::Plan plan = plan_at(76, plan::Join{plan::JoinKind::hold_and_lift, 4, 2, 0});
  const auto window = window_at_join(plan, score, verse(score, "1"), verse(score, "2"));
  ASSERT_TRUE(window) << window.reason;
  EXPECT_NEAR(window->whole_s, 6 * 60.0 / 76, 1e-12);
  EXPECT_NEAR(window->lift_s, 2 * 60.0 / 76, 1e-12);
  EXPECT_NEAR(window->hold_s(), 4 * 60.0 / 76, 1e-12);
}

TEST(ChangeWindow, ByTheBarHasAtLeastHalfABeatOfSilence) {
  const music::Score score = chorale();  // ends with a minim on beat 3
  const plan::Plan runs_on = plan_at(60, plan::Join{plan::JoinKind::by_the_bar, 0, 0, 0});
  const auto short_one = window_at_join(runs_on, score, verse(score, "1"), verse(score, "2"));
  ASSERT_TRUE(short_one);
  EXPECT_DOUBLE_EQ(short_one->whole_s, 2);
  EXPECT_DOUBLE_EQ(short_one->lift_s, 0.5);
  const plan::Plan one_more = plan_at(60, plan::Join{plan::JoinKind::by_the_bar, 0, 0, 1});
  const auto long_one = window_at_join(one_more, score, verse(score, "1"), verse(score, "2"));
  ASSERT_TRUE(long_one);
  EXPECT_DOUBLE_EQ(long_one->whole_s, 6);
  EXPECT_DOUBLE_EQ(long_one->lift_s, 4);
}

TEST(ChangeWindow, UnknownHasItsReason) {
  const music::Score score = chorale();
  const plan::RoutePass one = verse(score, "1");
  const auto no_tempo = window_at_join(
      plan_at(0, plan::Join{plan::JoinKind::hold_and_lift, 4, 2, 0}), score, one, one);
  EXPECT_FALSE(no_tempo);
  EXPECT_EQ(no_tempo.reason, "no tempo is set");
  const auto no_join = window_at_join(plan_at(76, std::nullopt), score, one, one);
  EXPECT_FALSE(no_join);
  EXPECT_EQ(no_join.reason, "no join is planned");
}

TEST(ChangeWindow, BesideAnUnaccompaniedVerseThereIsTime) {
  const music::Score score = chorale();
  plan::RoutePass alone = verse(score, "2");
  alone.unaccompanied = true;
  const auto window = window_at_join(plan_at(76, std::nullopt), score, verse(score, "1"), alone);
  ASSERT_TRUE(window);
  EXPECT_GE(window->lift_s, kEndless);
}

TEST(ChangeWindow, AtAPhraseEnd) {
  const music::Score score = chorale();
  plan::Route route;
  route.phrases = score.phrases;
  const auto plan = plan_at(60, std::nullopt);
  const auto window = window_at_phrase_end(plan, score, route, verse(score, "1"), 1);
  ASSERT_TRUE(window) << window.reason;
  EXPECT_DOUBLE_EQ(window->whole_s, 2);
  EXPECT_DOUBLE_EQ(window->lift_s, 0.25);
  EXPECT_FALSE(window_at_phrase_end(plan, score, route, verse(score, "1"), 2));
  EXPECT_FALSE(window_at_phrase_end(plan, score, route, verse(score, "1"), 3));
  EXPECT_EQ(*last_chord_of_phrase(score, route, 1), 6 * kTicksPerQuarter);
}

TEST(ChangeWindow, TheScoresTempoServesWhereThePlanHasNone) {
  music::Score score = chorale();
  score.tempi = {{0, 90}};
  plan::Plan plan;
  plan.beat = plan::BeatUnit::half;
  const auto tempo = set_tempo(plan, score);
  ASSERT_TRUE(tempo);
  EXPECT_DOUBLE_EQ(*tempo, 45);
}

}  // namespace
}  // namespace loftbeat::advise
