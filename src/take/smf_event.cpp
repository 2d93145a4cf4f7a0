#include "take/smf_event.h"

#include <utility>

namespace loftbeat::take {
namespace {

using music::SmfEvent;

constexpr std::uint8_t kMeta = 0xFF;
constexpr std::uint8_t kMarker = 0x06;
constexpr std::uint8_t kCue = 0x07;
constexpr std::uint8_t kPort = 0x21;
constexpr char kExclusiveBegin = '\xF0';
constexpr char kExclusiveEnd = '\xF7';

std::uint8_t byte_at(const std::string& data, std::size_t i) {
  return i < data.size() ? static_cast<std::uint8_t>(data[i]) : std::uint8_t{0};
}

EventKind kind_of(std::uint8_t status, std::uint8_t data2) {
  switch (status & 0xF0) {
    case 0x80: return EventKind::note_off;
    case 0x90: return data2 == 0 ? EventKind::note_off : EventKind::note_on;
    case 0xA0: return EventKind::key_pressure;
    case 0xB0: return EventKind::control;
    case 0xC0: return EventKind::program;
    case 0xD0: return EventKind::channel_pressure;
    default: return EventKind::pitch_bend;
  }
}

int status_of(EventKind kind) {
  switch (kind) {
    case EventKind::note_on: return 0x90;
    case EventKind::note_off: return 0x80;
    case EventKind::key_pressure: return 0xA0;
    case EventKind::control: return 0xB0;
    case EventKind::program: return 0xC0;
    case EventKind::channel_pressure: return 0xD0;
    case EventKind::pitch_bend: return 0xE0;
    case EventKind::exclusive: return 0xF0;
    case EventKind::marker: break;
  }
  return kMeta;
}

Event with_bytes(EventKind kind, std::uint8_t port, std::string bytes) {
  Event event;
  event.kind = kind;
  event.port = port;
  event.bytes = std::move(bytes);
  return event;
}

}  // namespace

std::optional<Event> TrackEvents::read(const SmfEvent& event) {
  if (event.status == kMeta) return meta(event);
  if (event.status >= 0xF0) return exclusive(event);
  Event read;
  read.kind = kind_of(event.status, byte_at(event.data, 1));
  read.port = port_;
  read.channel = event.status & 0x0F;
  read.data1 = byte_at(event.data, 0);
  read.data2 = byte_at(event.data, 1);
  return read;
}

std::optional<Event> TrackEvents::meta(const SmfEvent& event) {
  if (event.meta == kPort && !event.data.empty()) port_ = byte_at(event.data, 0);
  if (event.meta != kMarker && event.meta != kCue) return std::nullopt;
  return with_bytes(EventKind::marker, port_, event.data);
}

// F0 begins a message; F7 packets go on with it until one ends in F7. An F7 packet with nothing
// to go on with may carry any bytes; it is kept if it holds an exclusive message of its own.
std::optional<Event> TrackEvents::exclusive(const SmfEvent& event) {
  if (event.status == 0xF0) {
    pending_exclusive_ = kExclusiveBegin;
  } else if (pending_exclusive_.empty() && byte_at(event.data, 0) != 0xF0) {
    return std::nullopt;
  }
  pending_exclusive_ += event.data;
  if (pending_exclusive_.back() != kExclusiveEnd) return std::nullopt;
  return with_bytes(EventKind::exclusive, port_, std::exchange(pending_exclusive_, {}));
}

SmfEvent smf_event(const Event& event, std::int64_t ticks) {
  const int status = status_of(event.kind);
  SmfEvent written;
  written.ticks = ticks;
  if (event.kind == EventKind::marker) {
    written.status = kMeta;
    written.meta = kMarker;
    written.data = event.bytes;
    return written;
  }
  if (event.kind == EventKind::exclusive) {
    written.status = 0xF0;
    written.data = event.bytes.empty() ? std::string(1, kExclusiveEnd) : event.bytes.substr(1);
    return written;
  }
  written.status = static_cast<std::uint8_t>(status | (event.channel & 0x0F));
  written.data.push_back(static_cast<char>(event.data1 & 0x7F));
  const bool one_byte =
      event.kind == EventKind::program || event.kind == EventKind::channel_pressure;
  if (!one_byte) written.data.push_back(static_cast<char>(event.data2 & 0x7F));
  return written;
}

SmfEvent smf_port(std::uint8_t port, std::int64_t ticks) {
  return {ticks, kMeta, kPort, std::string(1, static_cast<char>(port))};
}

}  // namespace loftbeat::take
