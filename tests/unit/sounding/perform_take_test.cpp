#include "voice/perform_take.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "small_organ.h"
#include "voice/perform_chord.h"

namespace loftbeat::voice {
namespace {

using rt::Act;

take::Event event(double at, take::EventKind kind, std::uint8_t channel, std::uint8_t data1,
                  std::uint8_t data2) {
  take::Event one;
  one.at = instant_from_seconds(at);
  one.kind = kind;
  one.channel = channel;
  one.data1 = data1;
  one.data2 = data2;
  return one;
}

TEST(PerformTake, ChannelsPlayDivisionsAndMessagesMoveStops) {
  const organ::Organ organ = small_organ();
  take::Take take;
  take.events = {event(0.5, take::EventKind::note_on, 1, 60, 3),
                 event(1, take::EventKind::note_off, 1, 60, 64),
                 event(1.5, take::EventKind::control, 0, 20, 127),
                 event(2, take::EventKind::program, 9, 1, 0),
                 event(3, take::EventKind::note_on, 7, 60, 100)};
  const auto performance = perform(take, organ, drawn(organ, {}));
  ASSERT_TRUE(performance.ok()) << to_string(performance.error());
  std::vector<rt::Event> events = performance->events;
  ASSERT_EQ(events.size(), 6U);
  EXPECT_EQ(events[0].act, Act::key_down);
  EXPECT_EQ(events[0].frame, 24'000);
  EXPECT_EQ(events[0].division, 1);
  EXPECT_EQ(events[2].act, Act::draw_stop);
  EXPECT_EQ(events[2].index, 0);
  EXPECT_EQ(events[3].act, Act::push_in_stop);  // the piston has the Principal alone
  EXPECT_EQ(events[4].act, Act::draw_stop);
  EXPECT_EQ(events[4].index, 1);
  ASSERT_EQ(performance->notices.size(), 1U);  // channel 8 is nobody's
}

TEST(PerformTake, SaysWhichChannelsHaveNoDivision) {
  const organ::Organ organ = small_organ();
  take::Take take;
  take.events = {event(0, take::EventKind::note_on, 11, 60, 100)};
  const auto performance = perform(take, organ, drawn(organ, {}));
  ASSERT_FALSE(performance.ok());
  EXPECT_EQ(performance.error().kind, ErrorKind::no_fit);
  EXPECT_NE(to_string(performance.error()).find("channel 12"), std::string::npos);
  EXPECT_FALSE(perform(take::Take{}, organ, drawn(organ, {})).ok());
}

TEST(PerformChord, NamesKeysForHandsAndFeet) {
  const organ::Organ organ = small_organ();
  const auto registration = drawn(organ, {"Great Open Diapason 8", "Pedal Bourdon 16"});
  const auto chord = perform_chord(organ, registration, "C4 Eb4 67 + C2", 2);
  ASSERT_TRUE(chord.ok()) << to_string(chord.error());
  std::vector<std::pair<int, int>> keys;
  for (const rt::Event& one : chord->events)
    if (one.act == Act::key_down) keys.emplace_back(one.division, one.index);
  EXPECT_EQ(keys, (std::vector<std::pair<int, int>>{{0, 60}, {0, 63}, {0, 67}, {2, 36}}));
  EXPECT_EQ(chord->frames, 96'000);
  for (const char* wrong : {"", "H4", "C4 +", "+ C2 C9", "C4 E"}) {
    const auto refused = perform_chord(organ, registration, wrong, 2);
    EXPECT_EQ(refused.ok(), std::string(wrong) == "C4 +") << wrong;
  }
  EXPECT_FALSE(perform_chord(organ, drawn(organ, {"Great Principal 4"}), "C4 + C2", 2).ok());
}

}  // namespace
}  // namespace loftbeat::voice
