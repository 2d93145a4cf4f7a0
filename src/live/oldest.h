#pragma once

#include <vector>

#include "live/rt/message.h"

namespace loftbeat::live {

// The queue whose first message is the oldest of all that stand first; null if all are empty. For
// the thread that pops.
[[nodiscard]] inline rt::MessageQueue* oldest_of(const std::vector<rt::MessageQueue*>& queues) {
  rt::MessageQueue* oldest = nullptr;
  for (rt::MessageQueue* queue : queues) {
    const rt::Message* first = queue->front();
    if (first != nullptr && (oldest == nullptr || first->at_ns < oldest->front()->at_ns))
      oldest = queue;
  }
  return oldest;
}

}  // namespace loftbeat::live
