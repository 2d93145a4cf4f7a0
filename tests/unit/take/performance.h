#pragma once

#include <algorithm>
#include <cstdint>
#include <string_view>

#include "take/hygiene.h"
#include "take/take.h"

namespace loftbeat::take {

inline Instant ms(double t) { return Instant(span_from_seconds(t * 1e-3)); }

// A take put together key by key; times in milliseconds.
class Performance {
 public:
  Performance& key(double on, double off, int pitch, int channel = 0, int velocity = 64,
                   int port = 0) {
    event(on, EventKind::note_on, channel, pitch, velocity, port);
    return event(off, EventKind::note_off, channel, pitch, 64, port);
  }
  Performance& event(double at, EventKind kind, int channel, int data1, int data2, int port = 0) {
    Event made;
    made.at = ms(at);
    made.kind = kind;
    made.port = static_cast<std::uint8_t>(port);
    made.channel = static_cast<std::uint8_t>(channel);
    made.data1 = static_cast<std::uint8_t>(data1);
    made.data2 = static_cast<std::uint8_t>(data2);
    take_.events.push_back(made);
    return *this;
  }
  Performance& control(double at, int controller, int value, int channel = 0) {
    return event(at, EventKind::control, channel, controller, value);
  }
  // In order of time; releases before strikes at the same instant, as a keyboard sends them.
  [[nodiscard]] Take take() const {
    Take sorted = take_;
    std::stable_sort(sorted.events.begin(), sorted.events.end(),
                     [](const Event& a, const Event& b) {
                       if (a.at != b.at) return a.at < b.at;
                       return a.kind == EventKind::note_off && b.kind == EventKind::note_on;
                     });
    return sorted;
  }
  [[nodiscard]] CleanTake clean() const { return take::clean(take()); }

 private:
  Take take_;
};

inline bool tells(const CleanTake& take, std::string_view words) {
  return std::any_of(take.notices.begin(), take.notices.end(), [&](const Notice& notice) {
    return notice.message.find(words) != std::string::npos;
  });
}

}  // namespace loftbeat::take
