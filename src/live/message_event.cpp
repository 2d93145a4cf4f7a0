#include "live/message_event.h"

#include <algorithm>

namespace loftbeat::live {
namespace {

using take::EventKind;

struct Shape {
  EventKind kind;
  std::size_t size;  // with the status byte
};

std::optional<Shape> shape_of(std::uint8_t status) {
  switch (status & 0xF0U) {
    case 0x80: return Shape{EventKind::note_off, 3};
    case 0x90: return Shape{EventKind::note_on, 3};
    case 0xA0: return Shape{EventKind::key_pressure, 3};
    case 0xB0: return Shape{EventKind::control, 3};
    case 0xC0: return Shape{EventKind::program, 2};
    case 0xD0: return Shape{EventKind::channel_pressure, 2};
    case 0xE0: return Shape{EventKind::pitch_bend, 3};
    default: return std::nullopt;
  }
}

std::optional<take::Event> exclusive(const rt::Message& message, take::Event event) {
  constexpr std::uint8_t kEnd = 0xF7;
  if (message.size < 2 || message.bytes[message.size - 1U] != kEnd) return std::nullopt;
  event.kind = EventKind::exclusive;
  event.bytes.assign(message.bytes.begin(), message.bytes.begin() + message.size);
  return event;
}

}  // namespace

std::optional<take::Event> event_of(const rt::Message& message) {
  if (message.size == 0 || message.size > rt::Message::kMostBytes) return std::nullopt;
  take::Event event;
  event.at = Instant(Nanoseconds(message.at_ns));
  event.port = message.port;
  const std::uint8_t status = message.bytes[0];
  if (status == 0xF0) return exclusive(message, std::move(event));
  const auto shape = shape_of(status);
  if (!shape || message.size < shape->size) return std::nullopt;
  event.kind = shape->kind;
  event.channel = status & 0x0FU;
  event.data1 = message.bytes[1];
  event.data2 = shape->size > 2 ? message.bytes[2] : std::uint8_t{0};
  if (event.data1 > 127 || event.data2 > 127) return std::nullopt;
  if (event.kind == EventKind::note_on && event.data2 == 0) event.kind = EventKind::note_off;
  return event;
}

std::optional<rt::Message> message_of(const take::Event& event) {
  rt::Message message;
  message.at_ns = event.at.time_since_epoch().count();
  message.port = event.port;
  if (event.kind == EventKind::exclusive) {
    if (event.bytes.empty() || event.bytes.size() > rt::Message::kMostBytes) return std::nullopt;
    message.size = static_cast<std::uint8_t>(event.bytes.size());
    std::copy(event.bytes.begin(), event.bytes.end(), message.bytes.begin());
    return message;
  }
  for (unsigned status = 0x80; status < 0xF0; status += 0x10) {
    const auto shape = shape_of(static_cast<std::uint8_t>(status));
    if (!shape || shape->kind != event.kind) continue;
    message.bytes = {static_cast<std::uint8_t>(status | event.channel), event.data1, event.data2};
    message.size = static_cast<std::uint8_t>(shape->size);
    return message;
  }
  return std::nullopt;  // a marker
}

}  // namespace loftbeat::live
