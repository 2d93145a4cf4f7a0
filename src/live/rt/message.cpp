#include "live/rt/message.h"

#include <algorithm>

namespace loftbeat::live::rt {

Message input_gone(std::uint8_t port, std::int64_t at_ns) {
  Message message;
  message.at_ns = at_ns;
  message.port = port;
  message.size = 1;
  message.bytes[0] = kInputGone;
  return message;
}

Received make_message(std::uint8_t port, std::int64_t at_ns, const std::uint8_t* bytes,
                      std::size_t size, Message& message) {
  constexpr std::uint8_t kFirstStatus = 0x80;
  constexpr std::uint8_t kFirstSystem = 0xF0;
  const bool playing = size > 0 && bytes[0] >= kFirstStatus && bytes[0] <= kFirstSystem;
  if (!playing) return Received::no_playing;
  if (size > Message::kMostBytes) return Received::too_long;
  message.at_ns = at_ns;
  message.port = port;
  message.size = static_cast<std::uint8_t>(size);
  std::copy_n(bytes, size, message.bytes.begin());
  return Received::pushed;
}

Received receive(MessageQueue& queue, std::uint8_t port, std::int64_t at_ns,
                 const std::uint8_t* bytes, std::size_t size) {
  Message message;
  const Received made = make_message(port, at_ns, bytes, size, message);
  if (made != Received::pushed) return made;
  return queue.push(message) ? Received::pushed : Received::queue_full;
}

}  // namespace loftbeat::live::rt
