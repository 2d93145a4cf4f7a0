// A take sounded with the plan's registrations, pass by pass.

#include "app/take_stops.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

using voice::rt::Act;

const std::string kSessions = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/";

SoundOrder demo_order() {
  SoundOrder order;
  order.plan_path = kSessions + "quaverham/evening.plan.toml";
  order.take_path = kSessions + "demo.mid";
  order.dry = true;
  return order;
}

voice::Performance sound_of(const SoundOrder& order) {
  const auto data = read_sound_data(order);
  EXPECT_TRUE(data.ok()) << to_string(data.error());
  const auto take = take::read_take(order.take_path);
  EXPECT_TRUE(take.ok());
  const auto sound = sound_of_take(order, *data, *take);
  EXPECT_TRUE(sound.ok()) << to_string(sound.error());
  return *sound;
}

bool is_stop_move(const voice::rt::Event& event) {
  return event.act == Act::draw_stop || event.act == Act::push_in_stop;
}

TEST(TakeStops, EveryPassGetsItsRegistrationWhileNoKeyIsDown) {
  const voice::Performance sound = sound_of(demo_order());
  int down = 0;
  int changes = 0;  // instants with stop moves
  std::int64_t last = -1;
  for (const voice::rt::Event& event : sound.events) {
    if (event.act == Act::key_down) ++down;
    if (event.act == Act::key_up) --down;
    if (!is_stop_move(event)) continue;
    EXPECT_EQ(down, 0) << "at frame " << event.frame;
    if (event.frame != last) ++changes;
    last = event.frame;
  }
  // Before the play-over, verse 1 (the pedal flute), verse 2 (the fifteenth) and verse 3.
  EXPECT_EQ(changes, 4);
}

TEST(TakeStops, StopsOfTheCommandLineHoldThroughout) {
  SoundOrder order = demo_order();
  order.stops = "Great Principal 4, Pedal Bourdon 16";
  const voice::Performance sound = sound_of(order);
  EXPECT_EQ(std::count_if(sound.events.begin(), sound.events.end(), is_stop_move), 2);
}

TEST(TakeStops, ATakeOfAnotherTuneKeepsOneRegistrationAndSaysSo) {
  SoundOrder order = demo_order();
  order.take_path = kSessions + "quaverham/old-hundredth.mid";
  const voice::Performance sound = sound_of(order);
  for (const voice::rt::Event& event : sound.events) {
    if (is_stop_move(event)) {
      EXPECT_EQ(event.frame, 0);
    }
  }
  EXPECT_TRUE(std::any_of(sound.notices.begin(), sound.notices.end(), [](const Notice& notice) {
    return to_string(notice).find("not of the plan's tune") != std::string::npos;
  }));
}

}  // namespace
}  // namespace loftbeat::app
