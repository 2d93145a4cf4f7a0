#include "voice/rt/console.h"

#include <map>
#include <random>
#include <set>
#include <utility>

#include <gtest/gtest.h>

namespace loftbeat::voice::rt {
namespace {

using Pipes = std::set<std::pair<int, int>>;  // stop and key

// Keeps what speaks, and finds fault with a pipe told twice.
class Ear : public PipeSink {
 public:
  void speak(int stop, int key) override { EXPECT_TRUE(speaking.emplace(stop, key).second); }
  void hush(int stop, int key) override { EXPECT_EQ(speaking.erase({stop, key}), 1U); }
  Pipes speaking;
};

// Two manuals and a pedal: stops 0 and 1 on the Great, 2 on the Swell, 3 on the Pedal.
ConsoleSpec three_divisions() {
  ConsoleSpec spec;
  spec.divisions = {{36, 96}, {36, 96}, {36, 67}};
  spec.stops = {{0}, {0}, {1}, {2}};
  spec.couplers = {{0, 1, 0}, {2, 0, 0}, {1, 1, 12}};
  return spec;
}

TEST(Console, AStopDrawnUnderAHeldKeySpeaksAndPushedInFallsSilent) {
  Ear ear;
  Console console(three_divisions(), ear);
  console.key_down(0, 60);
  EXPECT_TRUE(ear.speaking.empty());
  console.draw_stop(0);
  EXPECT_EQ(ear.speaking, (Pipes{{0, 60}}));
  console.push_in_stop(0);
  EXPECT_TRUE(ear.speaking.empty());
  console.key_up(0, 60);
  console.draw_stop(0);
  EXPECT_TRUE(ear.speaking.empty());
}

TEST(Console, APipeHeldByTwoKeysSpeaksOnceUntilBothAreUp) {
  Ear ear;
  Console console(three_divisions(), ear);
  console.draw_stop(2);
  console.draw_coupler(0);  // the Great plays the Swell
  console.key_down(1, 60);
  console.key_down(0, 60);
  EXPECT_EQ(console.speaking(), 1);
  console.key_up(1, 60);
  EXPECT_EQ(ear.speaking, (Pipes{{2, 60}}));
  console.key_up(0, 60);
  EXPECT_TRUE(ear.speaking.empty());
}

TEST(Console, CouplersWorkUnderHeldKeysAndDoNotChain) {
  Ear ear;
  Console console(three_divisions(), ear);
  console.draw_stop(0);
  console.draw_stop(2);
  console.draw_stop(3);
  console.key_down(2, 40);
  console.draw_coupler(0);  // the Great's keys play the Swell
  console.draw_coupler(1);  // the Pedal's keys play the Great, and no further
  EXPECT_EQ(ear.speaking, (Pipes{{3, 40}, {0, 40}}));
  console.push_in_coupler(1);
  EXPECT_EQ(ear.speaking, (Pipes{{3, 40}}));
}

TEST(Console, AnOctaveCouplerEndsWhereThePipesEnd) {
  Ear ear;
  Console console(three_divisions(), ear);
  console.draw_stop(2);
  console.draw_coupler(2);
  console.key_down(1, 90);
  EXPECT_EQ(ear.speaking, (Pipes{{2, 90}}));  // there is no key 102
  console.key_down(1, 48);
  EXPECT_EQ(ear.speaking, (Pipes{{2, 90}, {2, 48}, {2, 60}}));
}

// What speaks by definition, worked out from scratch.
struct Model {
  ConsoleSpec spec = three_divisions();
  std::map<std::pair<int, int>, int> pressed;
  std::set<int> drawn;
  std::set<int> coupled;

  [[nodiscard]] bool has(int division, int key) const {
    const auto& compass = spec.divisions[static_cast<std::size_t>(division)];
    return key >= compass.lowest_key && key <= compass.highest_key;
  }
  void sound(Pipes& pipes, int division, int key) const {
    for (std::size_t s = 0; has(division, key) && s < spec.stops.size(); ++s)
      if (spec.stops[s].division == division && drawn.count(static_cast<int>(s)) > 0)
        pipes.emplace(static_cast<int>(s), key);
  }
  [[nodiscard]] Pipes speaking() const {
    Pipes pipes;
    for (const auto& [place, count] : pressed) {
      if (count == 0 || !has(place.first, place.second)) continue;
      sound(pipes, place.first, place.second);
      for (const int c : coupled) {
        const auto& coupler = spec.couplers[static_cast<std::size_t>(c)];
        if (coupler.keyboard == place.first)
          sound(pipes, coupler.pipes, place.second + coupler.semitones);
      }
    }
    return pipes;
  }
};

TEST(Console, RandomPlayingAgreesWithTheDefinition) {
  std::mt19937 random(7);
  const auto up_to = [&](int most) {
    return static_cast<int>(random() % static_cast<unsigned>(most + 1));
  };
  Ear ear;
  Console console(three_divisions(), ear);
  Model model;
  for (int step = 0; step < 5000; ++step) {
    const int division = up_to(2);
    const int key = 30 + up_to(70);
    const int index = up_to(3);
    switch (up_to(7)) {
      case 0:
      case 1:
      case 2:
        console.key_down(division, key);
        ++model.pressed[{division, key}];
        break;
      case 3: {
        console.key_up(division, key);
        int& count = model.pressed[{division, key}];
        if (count > 0) --count;
        break;
      }
      case 4:
        console.draw_stop(index);
        model.drawn.insert(index);
        break;
      case 5:
        console.push_in_stop(index);
        model.drawn.erase(index);
        break;
      case 6:
        console.draw_coupler(index % 3);
        model.coupled.insert(index % 3);
        break;
      default:
        console.push_in_coupler(index % 3);
        model.coupled.erase(index % 3);
        break;
    }
    ASSERT_EQ(ear.speaking, model.speaking()) << "after step " << step;
    ASSERT_EQ(console.speaking(), static_cast<int>(ear.speaking.size()));
  }
  console.release_keys();
  EXPECT_TRUE(ear.speaking.empty());
}

TEST(Console, WhatIsOutOfRangeDoesNothing) {
  Ear ear;
  Console console(three_divisions(), ear);
  for (const int odd : {-1, 3, 99, 1 << 20}) {
    console.key_down(odd, 60);
    console.key_up(odd, 60);
    console.draw_coupler(odd);
    console.push_in_coupler(odd);
  }
  for (const int odd : {-1, 4, 128, 65535}) console.draw_stop(odd);
  console.draw_stop(0);
  for (const int odd : {-1, 0, 35, 97, 128, 65535}) console.key_down(0, odd);
  console.key_up(0, 60);
  EXPECT_TRUE(ear.speaking.empty());
}

}  // namespace
}  // namespace loftbeat::voice::rt
