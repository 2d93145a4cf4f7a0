// The player's own movement times, from movements simulated at a known speed.

#include "advise/movement_times.h"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "advise/hand_work.h"
#include "moving_organ.h"

namespace loftbeat::advise {
namespace {

using organ::Side;
using timing::JoinVerdict;

void add_next_chord(MovingScene& scene, double at_s) {
  for (const int key : {60, 64, 67}) {
    take::TakenNote note;
    note.on = instant_from_seconds(at_s);
    note.off = note.sound_off = instant_from_seconds(at_s + 1);
    note.pitch = static_cast<std::uint8_t>(key);
    note.channels = 1;
    scene.take.notes.push_back(note);
  }
}

std::vector<MovementTime> times_of(MovingScene& scene) {
  scene.console = lay_out(scene.organ);
  return movement_times(
      {scene.console, scene.plan, scene.raw, scene.take, scene.alignment, scene.joins});
}

// What the tables say of drawing the Fifteenth alone.
Movement tabled_fifteenth(const MovingScene& scene) {
  const ConsoleMap console = lay_out(scene.organ);
  organ::Registration before = organ::empty_registration(scene.organ);
  organ::Registration after = before;
  after.stops = {1};
  return knob_work(console, before, after).movements.front();
}

// One join: the hand goes `out_s` after the release and comes `back_s` after the stop.
std::vector<MovementTime> seen(JoinVerdict verdict, double out_s, double back_s) {
  const double at_s = 13 + out_s;
  MovingScene scene(verdict, at_s + back_s - 15);
  scene.raw.events = {control_at(at_s, kFifteenth, 127)};
  add_next_chord(scene, at_s + back_s);
  return times_of(scene);
}

TEST(MovementTimes, TheWayOutIsSeen) {
  const Movement table = tabled_fifteenth(MovingScene());
  const auto times = seen(JoinVerdict::in_time, 1.5 * table.reach_s, 2);
  ASSERT_EQ(times.size(), 1u);
  EXPECT_EQ(times[0].side, Side::right);
  EXPECT_EQ(times[0].handling, Handling::draw);
  EXPECT_NEAR(times[0].ratio, 1.5, 1e-6);  // instants are whole nanoseconds
}

TEST(MovementTimes, TheWayBackIsSeenOnlyWhereTheJoinWasLate) {
  const Movement table = tabled_fifteenth(MovingScene());
  const double out_s = 2 * table.reach_s;
  const double back_s = 0.5 * table.back_s;
  const auto late = seen(JoinVerdict::late, out_s, back_s);
  ASSERT_EQ(late.size(), 1u);
  EXPECT_NEAR(late[0].ratio, (out_s + back_s) / (table.reach_s + table.back_s), 1e-6);
  EXPECT_NEAR(seen(JoinVerdict::in_time, out_s, back_s).at(0).ratio, 2, 1e-6);
}

TEST(MovementTimes, AHandThatWaitedOrWasFreeIsNotTimed) {
  const Movement table = tabled_fifteenth(MovingScene());
  EXPECT_TRUE(seen(JoinVerdict::in_time, 3.01 * table.reach_s, 1).empty());
  EXPECT_TRUE(seen(JoinVerdict::in_time, 0.3 * table.reach_s, 1).empty());
  EXPECT_TRUE(seen(JoinVerdict::in_time, -0.5, 2).empty());
}

TEST(MovementTimes, NeitherAreMarksSeveralGoesOrAHelper) {
  MovingScene scene;
  add_next_chord(scene, 15);
  scene.raw.events = {mark_at(13.5, "stops")};
  EXPECT_TRUE(times_of(scene).empty());
  scene.raw.events = {control_at(13.5, kFifteenth, 127), control_at(13.6, 22, 127)};  // two sides
  EXPECT_TRUE(times_of(scene).empty());
  scene.raw.events = {control_at(13.5, kFifteenth, 127)};
  EXPECT_EQ(times_of(scene).size(), 1u);
  scene.plan.helper = true;
  EXPECT_TRUE(times_of(scene).empty());
}

// A player of a known factor, each way off by 10 % (a normal deviate in the exponent), 40
// movements: the median's standard error is 1.253 * 0.1 / sqrt(40) = 2 %, so that 8 % are four of
// them. (The standard error of a median: from memory.)
TEST(MovementTimes, AKnownFactorIsFoundAgain) {
  const Movement table = tabled_fifteenth(MovingScene());
  std::mt19937_64 random(17);
  std::normal_distribution<double> deviate(0, 0.1);
  for (const double factor : {0.6, 1.0, 1.6, 2.2}) {
    std::vector<MovementTime> all;
    for (int i = 0; i < 40; ++i) {
      const double out_s = factor * table.reach_s * std::exp(deviate(random));
      const double back_s = factor * table.back_s * std::exp(deviate(random));
      const auto verdict = i % 2 == 0 ? JoinVerdict::late : JoinVerdict::in_time;
      const auto times = seen(verdict, out_s, back_s);
      all.insert(all.end(), times.begin(), times.end());
    }
    const PlayerTimes player = learned_from(all);
    const auto& learned = player.at(Side::right, Handling::draw);
    EXPECT_GE(learned.observations, 36);  // four in forty may lie beyond a factor of three
    EXPECT_NEAR(learned.factor / factor, 1, 0.08) << factor;
  }
}

TEST(MovementTimes, AThumbPistonHasNoSide) {
  MovingScene scene;
  add_next_chord(scene, 15);
  const double reach_s = piston_work(lay_out(scene.organ), 0).reach_s;
  scene.raw.events = {control_at(13 + 1.25 * reach_s, 30, 127)};
  const auto times = times_of(scene);
  ASSERT_EQ(times.size(), 1u);
  EXPECT_EQ(times[0].side, Side::unknown);
  EXPECT_EQ(times[0].handling, Handling::press_piston);
  EXPECT_NEAR(times[0].ratio, 1.25, 1e-6);
}

}  // namespace
}  // namespace loftbeat::advise
