#pragma once

#include <atomic>
#include <chrono>
#include <cstddef>
#include <memory>
#include <string>

#include <jack/jack.h>

namespace loftbeat::voice {

// Watches whether a JACK server keeps its own time. All clients of a synchronous server wait for
// one another: whichever the machine holds up, each of them sees that cycle late. So what the
// machine does is told apart from what the program does.
class JackPulse {
 public:
  using Clock = std::chrono::steady_clock;
  explicit JackPulse(const std::string& server);
  ~JackPulse();
  JackPulse(const JackPulse&) = delete;
  JackPulse& operator=(const JackPulse&) = delete;
  [[nodiscard]] bool runs() const { return client_ != nullptr; }
  // Whether a cycle within [from, to] came later than one and a half periods after the one before
  // it, or earlier than half a period (the server catching up).
  [[nodiscard]] bool held_up(Clock::time_point from, Clock::time_point to) const;
  [[nodiscard]] Clock::duration period() const { return period_; }

 private:
  static int process(jack_nframes_t frames, void* self);
  static constexpr std::size_t kMostCycles = 1 << 16;  // of 2.67 ms: 174 s
  jack_client_t* client_ = nullptr;
  Clock::duration period_{};
  std::unique_ptr<std::atomic<Clock::rep>[]> cycles_;
  std::atomic<std::size_t> count_{0};
};

}  // namespace loftbeat::voice
