#include "live/rt/ears.h"

namespace loftbeat::live::rt {

Ears::Ears(const std::vector<Reader>& readers, int channel) : channel_(channel) {
  for (const Reader reader : readers)
    queues_[static_cast<std::size_t>(reader)] = std::make_unique<MessageQueue>();
}

Received Ears::receive(std::uint8_t port, std::int64_t at_ns, const std::uint8_t* bytes,
                       std::size_t size) {
  Message message;
  const Received made = make_message(port, at_ns, bytes, size, message);
  if (made != Received::pushed) return made;
  constexpr std::uint8_t kFirstSystem = 0xF0;
  if (channel_ != kAsSent && message.bytes[0] < kFirstSystem)
    message.bytes[0] =
        static_cast<std::uint8_t>((message.bytes[0] & 0xF0U) | static_cast<std::uint8_t>(channel_));
  return push(message) ? Received::pushed : Received::queue_full;
}

bool Ears::push(const Message& message) {
  bool all = true;
  for (const auto& queue : queues_)
    if (queue && !queue->push(message)) all = false;
  return all;
}

std::uint64_t Ears::refused() const {
  std::uint64_t sum = 0;
  for (const auto& queue : queues_) sum += queue ? queue->refused() : 0;
  return sum;
}

}  // namespace loftbeat::live::rt
