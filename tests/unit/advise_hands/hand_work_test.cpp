#include "advise/hand_work.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <gtest/gtest.h>

#include "consoles.h"

namespace loftbeat::advise {
namespace {

using Kind = Movement::Kind;

organ::Piston piston(std::vector<std::size_t> stops, std::optional<std::size_t> division = {},
                     organ::Piston::By by = organ::Piston::By::thumb) {
  organ::Piston made;
  made.name = "1";
  made.by = by;
  made.division = division;
  made.stops = std::move(stops);
  return made;
}

TEST(HandWork, NothingMovesNoWork) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  std::mt19937 random(1);
  for (int i = 0; i < 50; ++i) {
    const organ::Registration same = random_registration(organ, random);
    const HandWork work = hand_work(console, same, same);
    EXPECT_TRUE(work.movements.empty());
    EXPECT_TRUE(work.swells.empty());
    EXPECT_EQ(work.seconds(), 0);
  }
}

TEST(HandWork, KnobsOfOneSideAreOneMovement) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  const HandWork work = hand_work(console, drawn(organ, {}), drawn(organ, {0, 1, 2, 3}));
  ASSERT_EQ(work.movements.size(), 1u);
  EXPECT_EQ(work.movements[0].kind, Kind::draw);
  EXPECT_EQ(work.movements[0].side, organ::Side::right);
  EXPECT_EQ(work.movements[0].hand(), Hand::right);
  EXPECT_EQ(work.movements[0].controls.size(), 4u);
  EXPECT_TRUE(work.places_known());
}

TEST(HandWork, BothSidesAreTwoAndDrawAndPushAreTwo) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  const HandWork sides = hand_work(console, drawn(organ, {}), drawn(organ, {0, 4}));
  EXPECT_EQ(sides.movements.size(), 2u);
  const HandWork both_ways = hand_work(console, drawn(organ, {0}), drawn(organ, {1}));
  ASSERT_EQ(both_ways.movements.size(), 2u);
  EXPECT_EQ(both_ways.movements[0].kind, Kind::draw);
  EXPECT_EQ(both_ways.movements[1].kind, Kind::push_in);
}

TEST(HandWork, TabsHaveNoSidesAndEitherHandTakesThem) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  const HandWork work = hand_work(console, drawn(organ, {}), drawn(organ, {}, {0, 1}));
  ASSERT_EQ(work.movements.size(), 1u);
  EXPECT_EQ(work.movements[0].hand(), Hand::either);
}

TEST(HandWork, ThereAndBackHaveTheSameGoes) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  std::mt19937 random(2);
  for (int i = 0; i < 200; ++i) {
    const organ::Registration a = random_registration(organ, random);
    const organ::Registration b = random_registration(organ, random);
    const HandWork there = hand_work(console, a, b);
    const HandWork back = hand_work(console, b, a);
    EXPECT_EQ(there.movements.size(), back.movements.size());
    EXPECT_NEAR(there.seconds(), back.seconds(), 1e-9);
  }
}

TEST(HandWork, TimeGrowsWithDistance) {
  organ::Organ organ = small_console();
  double before = 0;
  for (int place = 1; place <= 12; ++place) {
    organ.stops[0].location.place = place;
    const ConsoleMap console = lay_out(organ);
    const double seconds = hand_work(console, drawn(organ, {}), drawn(organ, {0})).seconds();
    EXPECT_GT(seconds, before) << place;
    before = seconds;
  }
}

TEST(HandWork, OneMoreKnobOfAGoTakesLongerButIsNoMoreMovements) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  std::vector<std::size_t> stops;
  double before = 0;
  for (std::size_t s = 0; s < 4; ++s) {
    stops.push_back(s);
    const HandWork work = hand_work(console, drawn(organ, {}), drawn(organ, stops));
    EXPECT_EQ(work.movements.size(), 1u);
    EXPECT_GT(work.seconds(), before);
    before = work.seconds();
  }
}

TEST(HandWork, APistonThatLeavesWhatIsWantedBeatsKnobs) {
  organ::Organ organ = small_console();
  organ.pistons = {piston({0, 2}, 0), piston({0, 2, 3}, 0)};
  const ConsoleMap console = lay_out(organ);
  // Great Stopped Diapason goes in and three stops come, with the Swell as it was.
  const HandWork work = hand_work(console, drawn(organ, {1, 4}), drawn(organ, {0, 2, 3, 4}));
  ASSERT_EQ(work.movements.size(), 1u);
  EXPECT_EQ(work.movements[0].kind, Kind::thumb_piston);
  EXPECT_EQ(work.movements[0].controls[0].index, 1u);
  EXPECT_EQ(work.by_hand(), 0u);
  EXPECT_NEAR(work.seconds(), 0.22, 0.005);
}

TEST(HandWork, APistonAndAKnobWhereThatIsLess) {
  organ::Organ organ = small_console();
  organ.pistons = {piston({0, 2}, 0)};
  const ConsoleMap console = lay_out(organ);
  const HandWork work = hand_work(console, drawn(organ, {1, 3}), drawn(organ, {0, 2, 4}));
  ASSERT_EQ(work.movements.size(), 2u);
  EXPECT_EQ(work.movements[0].kind, Kind::thumb_piston);
  EXPECT_EQ(work.movements[1].kind, Kind::draw);
}

TEST(HandWork, AGeneralTakesWhatItDoesNotHoldAway) {
  organ::Organ organ = small_console();
  organ.pistons = {piston({0, 2})};
  const ConsoleMap console = lay_out(organ);
  // The general would push in the Gedackt too.
  const HandWork keeps = hand_work(console, drawn(organ, {4}), drawn(organ, {0, 2, 4}));
  ASSERT_EQ(keeps.movements.size(), 1u);
  EXPECT_EQ(keeps.movements[0].kind, Kind::draw);
}

// Independent of the search: every sequence of up to three pistons, then knobs.
TEST(HandWork, IsTheCheapestOfAllWays) {
  std::mt19937 random(3);
  for (int round = 0; round < 60; ++round) {
    organ::Organ organ = small_console();
    for (int p = 0; p < 5; ++p) {
      const auto division = random() % 4;
      organ::Piston made = piston({});
      if (division < 3) made.division = division;
      for (std::size_t s = 0; s < organ.stops.size(); ++s) {
        if (division < 3 && organ.stops[s].division != division) continue;
        if (random() % 2 == 0) made.stops.push_back(s);
      }
      if (division == 0 && random() % 2 == 0) made.couplers = {0};
      made.by = random() % 2 == 0 ? organ::Piston::By::thumb : organ::Piston::By::toe;
      organ.pistons.push_back(made);
    }
    const ConsoleMap console = lay_out(organ);
    const organ::Registration before = random_registration(organ, random);
    // Sometimes a target that pistons reach.
    organ::Registration after = random_registration(organ, random);
    if (round % 2 == 0) after = organ::after_piston(organ, before, organ.pistons[random() % 5]);
    if (round % 4 == 0) after = organ::after_piston(organ, after, organ.pistons[random() % 5]);

    using Cost = std::tuple<std::size_t, std::size_t, double>;
    Cost least{99, 99, 99};
    const std::function<void(const organ::Registration&, Cost, int)> all =
        [&](const organ::Registration& state, const Cost& so_far, int depth) {
          const auto [count, by_hand, seconds] = so_far;
          const HandWork knobs = knob_work(console, state, after);
          least = std::min(least, Cost{count + knobs.movements.size(), by_hand + knobs.by_hand(),
                                       seconds + knobs.seconds()});
          if (depth == 3) return;
          for (const organ::Piston& pressed : organ.pistons) {
            // Time of one piston, from a console on which nothing else helps.
            const bool thumb = pressed.by == organ::Piston::By::thumb;
            const double press_s =
                thumb ? (5.3 + 0.8 * (10 / 2.54 - 3)) * 0.036 : (9.6 + 8.5 + 9.6) * 0.036;
            all(organ::after_piston(organ, state, pressed), {count + 1, by_hand, seconds + press_s},
                depth + 1);
          }
        };
    all(before, {0, 0, 0}, 0);
    const HandWork work = hand_work(console, before, after);
    EXPECT_EQ(work.movements.size(), std::get<0>(least)) << round;
    EXPECT_EQ(work.by_hand(), std::get<1>(least)) << round;
    EXPECT_NEAR(work.seconds(), std::get<2>(least), 1e-9) << round;
  }
}

TEST(HandWork, SwellPedalsAreNoMovement) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  organ::Registration shut = drawn(organ, {0});
  shut.swell[1] = 0.3;
  const HandWork work = hand_work(console, drawn(organ, {0}), shut);
  EXPECT_TRUE(work.movements.empty());
  ASSERT_EQ(work.swells.size(), 1u);
  EXPECT_EQ(work.swells[0].index, 1u);
}

TEST(HandWork, WhatIsNotSaidCountsAsBadly) {
  organ::Organ organ = small_console();
  for (organ::Stop& stop : organ.stops) stop.location = {};
  const ConsoleMap console = lay_out(organ);
  const HandWork one = hand_work(console, drawn(organ, {}), drawn(organ, {0}));
  ASSERT_EQ(one.movements.size(), 1u);
  EXPECT_FALSE(one.places_known());
  EXPECT_EQ(one.movements[0].hand(), Hand::either);
  EXPECT_EQ(hand_work(console, drawn(organ, {}), drawn(organ, {0, 1, 2})).movements.size(), 2u);
}

TEST(HandWork, ThePlayersOwnTimesScaleIt) {
  const organ::Organ organ = small_console();
  const ConsoleMap console = lay_out(organ);
  PlayerTimes player;
  player.at(organ::Side::right, Handling::draw) = {2.0, 3};
  const auto seconds = [&](std::size_t stop) {
    return hand_work(console, drawn(organ, {}), drawn(organ, {stop}), player).seconds() /
           hand_work(console, drawn(organ, {}), drawn(organ, {stop})).seconds();
  };
  EXPECT_NEAR(seconds(0), std::sqrt(2.0), 1e-9);
  EXPECT_NEAR(seconds(4), 1, 1e-9);
  EXPECT_EQ(used_factor({2.0, 2}), 1);
  EXPECT_NEAR(used_factor({1.5, 12}), 1.3832, 1e-3);
  EXPECT_LT(used_factor({1.5, 12}), used_factor({1.5, 30}));
  EXPECT_NEAR(used_factor({0.5, 5}) * used_factor({2.0, 5}), 1, 1e-12);
}

TEST(HandWork, SilentDivisionsArePreparedAndNothingElse) {
  const organ::Organ organ = small_console();
  const organ::Registration before = drawn(organ, {0, 4});
  const organ::Registration after = drawn(organ, {0, 2, 5, 6}, {0});
  const organ::Registration ready = prepared(organ, before, after, {true, false, true});
  EXPECT_EQ(ready, drawn(organ, {0, 5, 6}));
  EXPECT_EQ(prepared(organ, before, after, {true, true, true}), before);
}

}  // namespace
}  // namespace loftbeat::advise
