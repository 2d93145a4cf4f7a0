// How far simulated players move while the click rests. The truth is the simulator's.

#include "practice/click_rests.h"

#include <gtest/gtest.h>

#include "simulate/simulate.h"

namespace loftbeat::practice {
namespace {

struct Practice {
  Review review;
  std::vector<CountedBeat> beats;
};

// A tune of 8 bars in 4/4 at 60, one verse; beats of bars 1, 2, 5, 6 clicked.
Practice practised(const simulate::Player& player) {
  music::ReadScore score;
  score.score = simulate::invented_hymn({}, 2);
  plan::Plan plan;
  plan.tempo_bpm = 60;
  plan.verses = 1;
  plan.play_over.kind = plan::PlayOverKind::none;
  const auto route = plan::make_route(plan, score.score).value();
  const auto played = simulate::perform({score.score, plan, route}, player, 3);
  Practice made;
  for (Tick tick = 0; tick < score.score.length; tick += kTicksPerQuarter) {
    const auto beat = tick / kTicksPerQuarter;
    made.beats.push_back({0, tick, 1.5 + static_cast<double>(beat), (beat / 4) % 4 < 2});
  }
  auto review = loftbeat::practice::review(plan, score, played.take, "test");
  EXPECT_TRUE(review.ok());
  made.review = std::move(*review);
  return made;
}

// Faultless: not moved. There are two stretches of two bars; the last beats of the tune belong to
// its last chord and are not all struck.
TEST(ClickRests, AFaultlessPlayerDoesNotMove) {
  const Practice made = practised({});
  const auto rests = click_rests(made.review, made.beats);
  ASSERT_EQ(rests.size(), 2U);
  EXPECT_EQ(rests[0].from_bar, "3");
  EXPECT_EQ(rests[0].to_bar, "4");
  for (const ClickRest& rest : rests) EXPECT_NEAR(rest.moved_ms, 0, 1);
}

// Slower by 4 %: each beat lasts 1/0.96 s, so that the last silent beat lies beats * 41.67 ms later
// than the click would have had it.
TEST(ClickRests, ASlowPlayerLosesWhatFourPercentCome) {
  simulate::Player player;
  player.tempo.factor = 0.96;
  const Practice made = practised(player);
  const auto rests = click_rests(made.review, made.beats);
  ASSERT_EQ(rests.size(), 2U);
  for (const ClickRest& rest : rests)
    EXPECT_NEAR(rest.moved_ms, rest.beats * 1000 * (1 / 0.96 - 1), 3);
  EXPECT_GE(rests[0].beats, 6);
}

TEST(ClickRests, WithoutSilentBeatsThereIsNothingToTell) {
  Practice made = practised({});
  for (CountedBeat& beat : made.beats) beat.clicked = true;
  EXPECT_TRUE(click_rests(made.review, made.beats).empty());
}

}  // namespace
}  // namespace loftbeat::practice
