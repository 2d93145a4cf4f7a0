#pragma once

#include <array>
#include <bitset>
#include <cstdint>
#include <map>
#include <vector>

#include "take/take.h"

namespace loftbeat::live {

// Which keys are down, so that none hangs when an input goes away.
class HeldKeys {
 public:
  void feed(const take::Event& event);
  // A note-off at `at` for every key that is down on this input, lowest channel and key first;
  // after it none is down there.
  [[nodiscard]] std::vector<take::Event> released(std::uint8_t port, Instant at);

 private:
  using Channels = std::array<std::bitset<128>, 16>;
  std::map<std::uint8_t, Channels> down_;
};

}  // namespace loftbeat::live
