#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "jack_loop.h"

namespace loftbeat::live {

// When a server's frames were due, and whether it kept its time: by its own cycles, with no part of
// the program. A server without a sound card runs on a timer; where the machine held it up, its
// frames shift against the clock, and what a program then does cannot be told from what the server
// did.
class ServerTime {
 public:
  ServerTime(std::vector<JackLoop::Cycle> cycles, jack_nframes_t period);

  // Whether all cycles within [from, to] came within half a period of their time.
  [[nodiscard]] bool kept_time(std::int64_t from_ns, std::int64_t to_ns) const;
  // The frame that was due at that time: the median of the cycles of the second before and the
  // fifth of a second after; nothing where there are none.
  [[nodiscard]] std::optional<double> frame_at(std::int64_t steady_ns) const;
  // When the cycle came that began with this frame; nothing if none did.
  [[nodiscard]] std::optional<std::int64_t> came_at(jack_nframes_t frame) const;

 private:
  [[nodiscard]] std::vector<JackLoop::Cycle> within(std::int64_t from_ns, std::int64_t to_ns) const;
  std::vector<JackLoop::Cycle> cycles_;
  double period_;
};

}  // namespace loftbeat::live
