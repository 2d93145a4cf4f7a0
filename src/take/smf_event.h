#pragma once

#include <optional>
#include <string>

#include "music/smf_file.h"
#include "take/take.h"

namespace loftbeat::take {

// The events of one track of a file, told as events of a performance. Give it the track's events
// in order. Meta event 0x21 sets the port of what follows in its track; an exclusive message sent
// in several packets is put together again; what means nothing for a performance gives nothing.
class TrackEvents {
 public:
  // `at` of the result is not set.
  [[nodiscard]] std::optional<Event> read(const music::SmfEvent& event);

 private:
  [[nodiscard]] std::optional<Event> meta(const music::SmfEvent& event);
  [[nodiscard]] std::optional<Event> exclusive(const music::SmfEvent& event);

  std::uint8_t port_ = 0;
  std::string pending_exclusive_;
};

// The other way: one event of a performance as an event of a file, at `ticks`.
[[nodiscard]] music::SmfEvent smf_event(const Event& event, std::int64_t ticks);

// Sets the port of what follows.
[[nodiscard]] music::SmfEvent smf_port(std::uint8_t port, std::int64_t ticks);

}  // namespace loftbeat::take
