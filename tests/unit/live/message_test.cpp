// Bytes from an input to events of a take. Expected kinds and lengths of messages: MIDI 1.0,
// table of channel voice messages (status 8n to En, one or two data bytes).

#include <memory>
#include <vector>

#include <gtest/gtest.h>

#include "live/live.h"

namespace loftbeat::live {
namespace {

using take::EventKind;
using Bytes = std::vector<std::uint8_t>;

rt::Received give(rt::MessageQueue& queue, const Bytes& bytes) {
  return rt::receive(queue, 2, 1'000, bytes.data(), bytes.size());
}

std::optional<take::Event> through(const Bytes& bytes) {
  const auto queue = std::make_unique<rt::MessageQueue>();
  if (give(*queue, bytes) != rt::Received::pushed) return std::nullopt;
  return event_of(*queue->front());
}

TEST(Message, EveryChannelMessageBecomesItsEvent) {
  const std::vector<std::pair<Bytes, EventKind>> cases = {{{0x83, 60, 5}, EventKind::note_off},
                                                          {{0x93, 60, 5}, EventKind::note_on},
                                                          {{0xA3, 60, 5}, EventKind::key_pressure},
                                                          {{0xB3, 60, 5}, EventKind::control},
                                                          {{0xE3, 60, 5}, EventKind::pitch_bend}};
  for (const auto& [bytes, kind] : cases) {
    const auto event = through(bytes);
    ASSERT_TRUE(event.has_value());
    EXPECT_EQ(event->kind, kind);
    EXPECT_EQ(event->channel, 3);
    EXPECT_EQ(event->data1, 60);
    EXPECT_EQ(event->data2, 5);
    EXPECT_EQ(event->port, 2);
    EXPECT_EQ(event->at, Instant(Nanoseconds(1'000)));
  }
  EXPECT_EQ(through({0xC0, 7})->kind, EventKind::program);
  EXPECT_EQ(through({0xD0, 7})->kind, EventKind::channel_pressure);
  EXPECT_EQ(through({0x90, 60, 0})->kind, EventKind::note_off);  // velocity 0
}

TEST(Message, ExclusiveMessagesKeepTheirBytes) {
  const auto event = through({0xF0, 0x7D, 1, 2, 0xF7});
  ASSERT_TRUE(event.has_value());
  EXPECT_EQ(event->kind, EventKind::exclusive);
  EXPECT_EQ(event->bytes, std::string("\xF0\x7D\x01\x02\xF7"));
  EXPECT_FALSE(through({0xF0, 0x7D, 1}).has_value());  // has no end
}

TEST(Message, WhatIsNoPlayingIsLeftOutWithoutHarm) {
  const auto queue = std::make_unique<rt::MessageQueue>();
  for (const Bytes& bytes :
       {Bytes{0xFE}, Bytes{0xF8}, Bytes{0xFA}, Bytes{0xF2, 1, 2}, Bytes{}, Bytes{60, 64}})
    EXPECT_EQ(give(*queue, bytes), rt::Received::no_playing);
  EXPECT_EQ(give(*queue, Bytes(rt::Message::kMostBytes + 1, 0xF0)), rt::Received::too_long);
  EXPECT_EQ(queue->front(), nullptr);
  for (const Bytes& broken : {Bytes{0x90, 60}, Bytes{0x90}, Bytes{0x90, 200, 3}, Bytes{0xC0}})
    EXPECT_FALSE(through(broken).has_value());
}

TEST(Message, AFullQueueIsCounted) {
  const auto queue = std::make_unique<rt::MessageQueue>();
  for (std::size_t i = 0; i < rt::MessageQueue::kCapacity; ++i)
    ASSERT_EQ(give(*queue, {0x90, 60, 1}), rt::Received::pushed);
  EXPECT_EQ(give(*queue, {0x90, 60, 1}), rt::Received::queue_full);
  EXPECT_EQ(queue->refused(), 1u);
}

}  // namespace
}  // namespace loftbeat::live
