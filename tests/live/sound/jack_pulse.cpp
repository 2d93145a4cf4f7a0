#include "jack_pulse.h"

namespace loftbeat::voice {

JackPulse::JackPulse(const std::string& server)
    : cycles_(std::make_unique<std::atomic<Clock::rep>[]>(kMostCycles)) {
  client_ =
      jack_client_open("pulse", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                       nullptr, server.c_str());
  if (client_ == nullptr) return;
  period_ = std::chrono::nanoseconds(1'000'000'000LL * jack_get_buffer_size(client_) /
                                     jack_get_sample_rate(client_));
  jack_set_process_callback(client_, process, this);
  jack_activate(client_);
}

JackPulse::~JackPulse() {
  if (client_ != nullptr) jack_client_close(client_);
}

int JackPulse::process(jack_nframes_t /*frames*/, void* self) {
  auto* pulse = static_cast<JackPulse*>(self);
  const std::size_t at = pulse->count_.load(std::memory_order_relaxed);
  if (at == kMostCycles) return 0;
  pulse->cycles_[at].store(Clock::now().time_since_epoch().count(), std::memory_order_relaxed);
  pulse->count_.store(at + 1, std::memory_order_release);
  return 0;
}

bool JackPulse::held_up(Clock::time_point from, Clock::time_point to) const {
  const std::size_t count = count_.load(std::memory_order_acquire);
  bool seen = false;
  for (std::size_t i = 1; i < count; ++i) {
    const Clock::rep now = cycles_[i].load(std::memory_order_relaxed);
    if (now < from.time_since_epoch().count()) continue;
    seen = true;
    const Clock::rep gap = now - cycles_[i - 1].load(std::memory_order_relaxed);
    if (2 * gap > 3 * period_.count() || 2 * gap < period_.count()) return true;
    if (now > to.time_since_epoch().count()) break;
  }
  return !seen;
}

}  // namespace loftbeat::voice
