// Which changes of stops are heard in a chord that is held.

#include "advise/chord_change.h"

#include <random>

#include <gtest/gtest.h>

#include "moving_organ.h"

namespace loftbeat::advise {
namespace {

HeldChord great_chord() { return {{{0, 60}, {0, 64}}}; }

organ::Registration drawn(std::vector<std::size_t> stops, std::vector<std::size_t> couplers = {}) {
  organ::Registration made = organ::empty_registration(moving_organ());
  made.stops = std::move(stops);
  made.couplers = std::move(couplers);
  return made;
}

// Source: the worked number of advise/chord_change.h, and its rules one by one.
TEST(ChordChange, TheDivisionsOwnStops) {
  const organ::Organ organ = moving_organ();
  EXPECT_TRUE(is_heard(organ, great_chord(), drawn({0}), drawn({0, 1})));
  EXPECT_TRUE(is_heard(organ, great_chord(), drawn({0, 1}), drawn({0})));
  EXPECT_FALSE(is_heard(organ, great_chord(), drawn({0}), drawn({0, 2})));
  EXPECT_FALSE(is_heard(organ, great_chord(), drawn({0}), drawn({0, 3})));
}

TEST(ChordChange, CoupledDivisions) {
  const organ::Organ organ = moving_organ();
  EXPECT_TRUE(is_heard(organ, great_chord(), drawn({0}, {0}), drawn({0, 2}, {0})));
  EXPECT_FALSE(is_heard(organ, great_chord(), drawn({0}, {0}), drawn({0, 3}, {0})));
}

TEST(ChordChange, ACouplerIsHeardIfThereIsSomethingToCouple) {
  const organ::Organ organ = moving_organ();
  EXPECT_TRUE(is_heard(organ, great_chord(), drawn({0, 2}), drawn({0, 2}, {0})));
  EXPECT_FALSE(is_heard(organ, great_chord(), drawn({0}), drawn({0}, {0})));
  EXPECT_FALSE(is_heard(organ, {{{1, 60}}}, drawn({0, 2}), drawn({0, 2}, {0})));
}

TEST(ChordChange, WhatTheCrescendoDrawsAnywayIsNoChange) {
  organ::Organ organ = moving_organ();
  organ.crescendo = organ::Crescendo{};
  organ.crescendo->stages.push_back({{1}, {}});
  organ::Registration before = drawn({0});
  before.crescendo = 1;
  organ::Registration after = before;
  after.stops = {0, 1};
  EXPECT_FALSE(is_heard(organ, great_chord(), before, after));
}

// Laws over random registrations: no change is not heard; with no key down nothing is; whichever
// way round, the same.
TEST(ChordChange, Laws) {
  const organ::Organ organ = moving_organ();
  std::mt19937 random(3);
  const auto some = [&] {
    organ::Registration made = organ::empty_registration(organ);
    for (std::size_t stop = 0; stop < organ.stops.size(); ++stop)
      if (random() % 2 == 0) made.stops.push_back(stop);
    if (random() % 2 == 0) made.couplers.push_back(0);
    return made;
  };
  for (int round = 0; round < 500; ++round) {
    const auto before = some();
    const auto after = some();
    const HeldChord chord{{{random() % 3, 48}}};
    EXPECT_FALSE(is_heard(organ, chord, before, before));
    EXPECT_FALSE(is_heard(organ, {}, before, after));
    EXPECT_EQ(is_heard(organ, chord, before, after), is_heard(organ, chord, after, before));
  }
}

TEST(HeldChord, KeysSoundFromTheirOnsetToBeforeTheirEnd) {
  MovingScene scene;
  const auto held = [&](double s) {
    return held_at(scene.take, scene.organ, instant_from_seconds(s), instant_from_seconds(15));
  };
  EXPECT_TRUE(held(9.99).empty());
  EXPECT_EQ(held(10).pressed.size(), 3u);
  EXPECT_EQ(held(12.999).pressed.size(), 3u);
  EXPECT_TRUE(held(13).empty());
  scene.take.stamp_uncertainty = std::chrono::milliseconds(2);
  EXPECT_TRUE(held(12.999).empty());
}

TEST(HeldChord, KeysOfNoDivisionAreUnplaced) {
  MovingScene scene;
  for (take::TakenNote& note : scene.take.notes) note.channels = 1U << 9;
  const HeldChord chord =
      held_at(scene.take, scene.organ, instant_from_seconds(11), instant_from_seconds(15));
  EXPECT_FALSE(chord.empty());
  EXPECT_EQ(chord.place, HeldChord::Place::unplaced);
}

}  // namespace
}  // namespace loftbeat::advise
