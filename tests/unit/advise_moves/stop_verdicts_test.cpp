// A take with stop moves judged. The scene's chord is let go at 13 s, the entry planned at 15 s.

#include "advise/stop_verdicts.h"

#include <gtest/gtest.h>

#include "advise/motion_times.h"
#include "moving_organ.h"

namespace loftbeat::advise {
namespace {

using timing::JoinVerdict;

// The one move of the scene.
JudgedMove only(MovingScene& scene) {
  const StopReview review = scene.judged();
  EXPECT_TRUE(review.known) << review.reason;
  EXPECT_EQ(review.moves.size(), 1u);
  return review.moves.empty() ? JudgedMove{} : review.moves.front();
}

TEST(StopVerdicts, AMoveInTheSilenceIsClean) {
  MovingScene scene;
  scene.raw.events = {control_at(13.2, kFifteenth, 127)};
  const JudgedMove move = only(scene);
  EXPECT_EQ(*move.verdict, StopVerdict::clean);
  EXPECT_FALSE(move.fault);
  EXPECT_EQ(move.controls, "draws Great Fifteenth 2");
  EXPECT_NEAR(*move.after_release_ms, 200, 1e-6);
  // Row 1, place 2 of the right jamb: 71 cm from the middle, 10 cm up, the hand 20 cm out:
  // hypot(51, 10) = 52.0 cm. Source: advise/console_map.h; the way back by advise/motion_times.h.
  EXPECT_NEAR(*move.return_s, seconds_from_tmu(reach_tmu(Reach::back, std::hypot(51, 10))), 1e-9);
}

TEST(StopVerdicts, AMoveInTheChordIsHeard) {
  MovingScene scene;
  scene.raw.events = {control_at(12.5, kFifteenth, 127)};
  const JudgedMove move = only(scene);
  EXPECT_EQ(*move.verdict, StopVerdict::heard_in_the_chord);
  EXPECT_TRUE(move.fault);
}

TEST(StopVerdicts, AMoveOnASilentDivisionIsNot) {
  MovingScene scene;
  scene.raw.events = {control_at(12.5, 22, 127)};  // the Swell's Oboe, not coupled
  EXPECT_EQ(*only(scene).verdict, StopVerdict::clean);
  scene.raw.events = {control_at(1, 24, 127), control_at(12.5, 22, 127)};  // coupled
  const StopReview coupled = scene.judged();
  ASSERT_EQ(coupled.moves.size(), 1u);
  EXPECT_EQ(coupled.elsewhere, 1);
  EXPECT_EQ(*coupled.moves.front().verdict, StopVerdict::heard_in_the_chord);
}

TEST(StopVerdicts, ALateMoveBeforeALateEntryCostTheBeat) {
  MovingScene scene(JoinVerdict::late, 0.4);
  scene.raw.events = {control_at(14.8, kFifteenth, 127)};
  const JudgedMove move = only(scene);
  EXPECT_EQ(*move.verdict, StopVerdict::cost_the_beat);
  EXPECT_NEAR(*move.past_entry_ms, (14.8 + *move.return_s - 15) * 1000, 1e-6);
}

TEST(StopVerdicts, AnEarlyMoveBeforeALateEntryDidNot) {
  MovingScene scene(JoinVerdict::late, 0.4);
  scene.raw.events = {control_at(13.2, kFifteenth, 127)};
  EXPECT_EQ(*only(scene).verdict, StopVerdict::clean);
}

TEST(StopVerdicts, APistonNeedsNoWayBackNorDoesAHelper) {
  MovingScene scene(JoinVerdict::late, 0.4);
  scene.raw.events = {control_at(14.8, 30, 127)};
  EXPECT_EQ(*only(scene).verdict, StopVerdict::clean);
  scene.raw.events = {control_at(14.8, kFifteenth, 127)};
  scene.plan.helper = true;
  EXPECT_EQ(*only(scene).verdict, StopVerdict::clean);
}

TEST(StopVerdicts, AfterTheEntry) {
  MovingScene scene;
  scene.raw.events = {control_at(15.5, kFifteenth, 127)};
  EXPECT_EQ(*only(scene).verdict, StopVerdict::after_the_beat);
  EXPECT_TRUE(only(scene).fault);
  scene.plan.verse_plans.clear();  // nothing is to move: it may have been meant
  EXPECT_FALSE(only(scene).fault);
}

TEST(StopVerdicts, LeftOutIsToldWhereOtherMovesAre) {
  MovingScene scene(JoinVerdict::late, 0.4);
  scene.raw.events = {control_at(1, 23, 127)};  // something, long before
  const JudgedMove move = only(scene);
  EXPECT_EQ(*move.verdict, StopVerdict::left_out);
  EXPECT_TRUE(move.fault);
  EXPECT_EQ(move.when, MoveWhen::none);
  EXPECT_FALSE(move.return_s);
}

TEST(StopVerdicts, NothingIsLeftOutWhereItWasDrawnBeforeOrIsNotForTheJoin) {
  MovingScene scene(JoinVerdict::late, 0.4);
  scene.raw.events = {control_at(1, kFifteenth, 127)};
  EXPECT_TRUE(scene.judged().moves.empty());
  scene.raw.events = {control_at(1, 23, 127)};
  scene.plan.moves_at.kind = plan::MovesAtKind::silent;
  EXPECT_TRUE(scene.judged().moves.empty());
}

TEST(StopVerdicts, ABareMarkInTheChordCannotTell) {
  MovingScene scene;
  scene.raw.events = {mark_at(12.5, "stops")};
  const JudgedMove move = only(scene);
  EXPECT_FALSE(move.verdict);
  EXPECT_FALSE(move.fault);
  scene.raw.events = {mark_at(13.5, "stops")};
  EXPECT_EQ(*only(scene).verdict, StopVerdict::clean);
}

TEST(StopVerdicts, ATakeWithoutMessagesIsNotJudged) {
  MovingScene scene;
  const StopReview review = scene.judged();
  EXPECT_FALSE(review.known);
  EXPECT_FALSE(review.reason.empty());
  EXPECT_TRUE(review.moves.empty());
}

TEST(StopVerdicts, APlanWithStopsThatAreNotThereIsNotJudged) {
  MovingScene scene;
  scene.plan.registration.stops = std::vector<std::string>{"Great Ophicleide 16"};
  scene.raw.events = {control_at(13.5, kFifteenth, 127)};
  EXPECT_FALSE(scene.judged().known);
}

// Messages of a piston, 2 ms apart, are one movement.
TEST(StopVerdicts, APistonsManyMessagesAreOneMovement) {
  MovingScene scene;
  for (int i = 0; i < 4; ++i)
    scene.raw.events.push_back(control_at(13.3 + 0.002 * i, 20 + i, i == 0 ? 0 : 127));
  EXPECT_EQ(only(scene).controls,
            "draws Great Fifteenth 2, Swell Oboe 8, Pedal Bourdon 16; pushes in Great Principal 8");
}

}  // namespace
}  // namespace loftbeat::advise
