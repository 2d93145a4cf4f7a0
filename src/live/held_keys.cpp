#include "live/held_keys.h"

namespace loftbeat::live {

void HeldKeys::feed(const take::Event& event) {
  const bool on = event.kind == take::EventKind::note_on;
  if (!on && event.kind != take::EventKind::note_off) return;
  down_[event.port][event.channel].set(event.data1, on);
}

std::vector<take::Event> HeldKeys::released(std::uint8_t port, Instant at) {
  std::vector<take::Event> events;
  const auto found = down_.find(port);
  if (found == down_.end()) return events;
  for (std::uint8_t channel = 0; channel < 16; ++channel) {
    for (std::uint8_t key = 0; key < 128; ++key) {
      if (!found->second[channel][key]) continue;
      take::Event event;
      event.at = at;
      event.kind = take::EventKind::note_off;
      event.port = port;
      event.channel = channel;
      event.data1 = key;
      event.data2 = 64;  // the release velocity of keyboards that measure none (MIDI 1.0)
      events.push_back(event);
    }
  }
  down_.erase(found);
  return events;
}

}  // namespace loftbeat::live
