#include "voice/rt/event_queue.h"

#include <memory>
#include <thread>

#include <gtest/gtest.h>

namespace loftbeat::voice::rt {
namespace {

TEST(EventQueue, KeepsTheOrderAndRefusesWhenFull) {
  const auto queue = std::make_unique<EventQueue>();
  EXPECT_EQ(queue->front(), nullptr);
  for (std::size_t i = 0; i < EventQueue::kCapacity; ++i)
    ASSERT_TRUE(queue->push({static_cast<std::int64_t>(i), Act::key_down, 0, 0, 0}));
  EXPECT_FALSE(queue->push({-1, Act::key_down, 0, 0, 0}));
  EXPECT_EQ(queue->refused(), 1U);
  for (std::size_t i = 0; i < EventQueue::kCapacity; ++i) {
    ASSERT_NE(queue->front(), nullptr);
    ASSERT_EQ(queue->front()->frame, static_cast<std::int64_t>(i));
    queue->pop();
  }
  EXPECT_EQ(queue->front(), nullptr);
}

TEST(EventQueue, CarriesEverythingFromOneThreadToAnotherInOrder) {
  constexpr std::int64_t kEvents = 200'000;
  const auto queue = std::make_unique<EventQueue>();
  std::thread pusher([&] {
    for (std::int64_t i = 0; i < kEvents;)
      if (queue->push({i, Act::key_up, 3, static_cast<std::uint16_t>(i % 60'000), 0.5F})) {
        ++i;
      } else {
        std::this_thread::yield();
      }
  });
  std::int64_t next = 0;
  bool right = true;
  while (next < kEvents) {
    const Event* event = queue->front();
    if (event == nullptr) {
      std::this_thread::yield();
      continue;
    }
    right = right && event->frame == next && event->index == next % 60'000 && event->division == 3;
    queue->pop();
    ++next;
  }
  pusher.join();
  EXPECT_TRUE(right);
}

}  // namespace
}  // namespace loftbeat::voice::rt
