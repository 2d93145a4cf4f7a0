#include "organ/console_read.h"

namespace loftbeat::organ {
namespace {

// A value against the two that mean on and off; whichever way round they lie.
std::optional<double> by_value(const MidiMapping& mapping, int value) {
  const bool upward = mapping.on_value >= mapping.off_value;
  if (upward ? value >= mapping.on_value : value <= mapping.on_value) return 1;
  if (upward ? value <= mapping.off_value : value >= mapping.off_value) return 0;
  return std::nullopt;
}

std::optional<double> by_program(const MidiMapping& mapping, int program) {
  if (program == mapping.number) return 1;
  if (program == mapping.off_number) return 0;
  return std::nullopt;
}

std::optional<double> by_bytes(const MidiMapping& mapping, const std::string& bytes) {
  if (bytes == mapping.on_bytes) return 1;
  if (!mapping.off_bytes.empty() && bytes == mapping.off_bytes) return 0;
  return std::nullopt;
}

}  // namespace

std::optional<double> heard(const MidiMapping& mapping, const ConsoleMessage& message) {
  using Kind = MidiMapping::Kind;
  const take::Event& event = message.event;
  if (mapping.kind == Kind::exclusive && event.kind == take::EventKind::exclusive) {
    return by_bytes(mapping, event.bytes);
  }
  if (mapping.kind == Kind::none || mapping.channel != event.channel + 1) return std::nullopt;
  if (mapping.kind == Kind::note && event.data1 == mapping.number) {
    if (event.kind == take::EventKind::note_on) return 1;
    if (event.kind == take::EventKind::note_off) return 0;
  }
  if (mapping.kind == Kind::nrpn && message.nrpn == mapping.number) {
    return by_value(mapping, event.data2);
  }
  if (mapping.kind == Kind::control && event.kind == take::EventKind::control &&
      event.data1 == mapping.number) {
    return by_value(mapping, event.data2);
  }
  if (mapping.kind == Kind::program && event.kind == take::EventKind::program) {
    return by_program(mapping, event.data1);
  }
  return std::nullopt;
}

}  // namespace loftbeat::organ
