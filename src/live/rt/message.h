#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "base/one_way_queue.h"

namespace loftbeat::live::rt {

// One MIDI message as an input handed it over, with its stamp: what a MIDI callback makes, with no
// lock and no allocation.
struct Message {
  // The longest exclusive message that stops are told with (organ/read.h) has 64 bytes.
  static constexpr std::size_t kMostBytes = 70;

  std::int64_t at_ns = 0;  // from the start of the take
  std::uint8_t port = 0;   // which input
  std::uint8_t size = 0;   // of bytes
  std::array<std::uint8_t, kMostBytes> bytes{};
};

// Some seconds of the densest stream that a cable can carry (1,000 notes a second).
using MessageQueue = OneWayQueue<Message, 8192>;

// Stands in a queue where its input went away: nothing held there can be released any more. (System
// reset, which inputs themselves never hand over, see receive().)
inline constexpr std::uint8_t kInputGone = 0xFF;
[[nodiscard]] Message input_gone(std::uint8_t port, std::int64_t at_ns);

// What a callback does with `size` bytes from input `port`: leaves out real-time messages (clock,
// active sensing), which are no playing; stamps and pushes the rest. Never waits. A message that
// is too long is left out; tells why not.
enum class Received { pushed, no_playing, too_long, queue_full };
// Makes the message alone: Received::pushed if it is one to push.
[[nodiscard]] Received make_message(std::uint8_t port, std::int64_t at_ns,
                                    const std::uint8_t* bytes, std::size_t size, Message& message);
[[nodiscard]] Received receive(MessageQueue& queue, std::uint8_t port, std::int64_t at_ns,
                               const std::uint8_t* bytes, std::size_t size);

}  // namespace loftbeat::live::rt
