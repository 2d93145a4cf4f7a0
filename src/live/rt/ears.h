#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

#include "live/rt/message.h"

namespace loftbeat::live::rt {

// Who reads what one input hands over; each has a queue and a thread of its own, so that none
// waits for another.
enum class Reader : std::uint8_t { keeper, engine, sound };
inline constexpr std::size_t kReaders = 3;

// The queues that one input fills. One thread pushes; one thread pops from each queue.
class Ears {
 public:
  // Queues for these readers alone; a queue that nobody empties would be full soon.
  // `channel`: 0 to 15, on which all channel messages are put; kAsSent: none.
  static constexpr int kAsSent = -1;
  explicit Ears(const std::vector<Reader>& readers, int channel = kAsSent);

  // As rt::receive, for every reader; queue_full if any queue was.
  Received receive(std::uint8_t port, std::int64_t at_ns, const std::uint8_t* bytes,
                   std::size_t size);
  bool push(const Message& message);

  // Null if there is no such reader.
  [[nodiscard]] MessageQueue* of(Reader reader) {
    return queues_[static_cast<std::size_t>(reader)].get();
  }
  // Messages that found a queue full.
  [[nodiscard]] std::uint64_t refused() const;

 private:
  std::array<std::unique_ptr<MessageQueue>, kReaders> queues_;
  int channel_;
};

}  // namespace loftbeat::live::rt
