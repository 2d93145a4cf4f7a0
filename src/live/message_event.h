#pragma once

#include <optional>

#include "live/rt/message.h"
#include "take/take.h"

namespace loftbeat::live {

// A message as an event of a take: note-on with velocity 0 is a note-off. Nothing for what is no
// event of a performance, or broken (bytes missing, data over 127).
[[nodiscard]] std::optional<take::Event> event_of(const rt::Message& message);

// The other way. Nothing for markers, and for exclusive messages that are too long.
[[nodiscard]] std::optional<rt::Message> message_of(const take::Event& event);

}  // namespace loftbeat::live
