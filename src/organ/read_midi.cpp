#include "organ/read_midi.h"

#include <array>
#include <optional>
#include <string_view>
#include <utility>

namespace loftbeat::organ {
namespace {

constexpr IntegerRange kSeven{0, 127};
constexpr IntegerRange kFourteen{0, 16383};
constexpr std::size_t kMostBytes = 64;

std::optional<int> hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return std::nullopt;
}

// "F0 7D 01 F7" as bytes; nothing if it is no whole exclusive message.
std::optional<std::string> exclusive_from(std::string_view text) {
  std::string bytes;
  std::size_t at = 0;
  while (at < text.size()) {
    if (text[at] == ' ') {
      ++at;
      continue;
    }
    const auto high = hex_digit(text[at]);
    const auto low = at + 1 < text.size() ? hex_digit(text[at + 1]) : std::nullopt;
    if (!high || !low || bytes.size() == kMostBytes) return std::nullopt;
    bytes += static_cast<char>(*high * 16 + *low);
    at += 2;
  }
  if (bytes.size() < 3 || bytes.front() != '\xF0' || bytes.back() != '\xF7') return std::nullopt;
  for (std::size_t i = 1; i + 1 < bytes.size(); ++i) {
    if (static_cast<unsigned char>(bytes[i]) >= 0x80) return std::nullopt;
  }
  return bytes;
}

std::string exclusive_at(const TomlItem& item) {
  const auto text = item.text();
  if (!text) return {};
  if (auto bytes = exclusive_from(*text)) return *bytes;
  item.refuse("3 to 64 bytes in hexadecimal, \"F0 ... F7\", those between below 80");
  return {};
}

int number_at(const TomlItem& item, IntegerRange range, int otherwise) {
  return static_cast<int>(item.integer(range).value_or(otherwise));
}

void read_details(const TomlTable& at, MidiMapping& mapping) {
  using Kind = MidiMapping::Kind;
  if (mapping.kind == Kind::exclusive) {
    mapping.on_bytes = exclusive_at(at["sysex"]);
    mapping.off_bytes = exclusive_at(at["off-sysex"]);
    return;
  }
  mapping.channel = number_at(at.needed("channel"), {1, 16}, 1);
  if (mapping.kind == Kind::program) {
    mapping.off_number = number_at(at["off-program"], kSeven, -1);
  }
  if (mapping.kind == Kind::control || mapping.kind == Kind::nrpn) {
    mapping.on_value = number_at(at["on"], kSeven, 127);
    mapping.off_value = number_at(at["off"], kSeven, 0);
    if (mapping.on_value == mapping.off_value) at["on"].refuse("another value than for off");
  }
}

}  // namespace

MidiMapping midi_from(const TomlItem& item) {
  using Kind = MidiMapping::Kind;
  MidiMapping mapping;
  const auto at = item.table();
  if (!at) return mapping;
  constexpr std::array<std::pair<std::string_view, Kind>, 5> kKinds = {
      {{"note", Kind::note},
       {"control", Kind::control},
       {"nrpn", Kind::nrpn},
       {"program", Kind::program},
       {"sysex", Kind::exclusive}}};
  int kinds = 0;
  for (const auto& [key, kind] : kKinds) {
    const TomlItem value = (*at)[key];
    if (!value.present()) continue;
    ++kinds;
    mapping.kind = kind;
    if (kind == Kind::exclusive) continue;
    mapping.number = number_at(value, kind == Kind::nrpn ? kFourteen : kSeven, 0);
  }
  if (kinds != 1) {
    item.refuse("exactly one of note, control, nrpn, program and sysex");
    return {};
  }
  read_details(*at, mapping);
  return mapping;
}

}  // namespace loftbeat::organ
