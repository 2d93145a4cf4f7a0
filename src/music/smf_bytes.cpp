#include "music/smf_bytes.h"

#include <cassert>

namespace loftbeat::music {
namespace {

std::uint32_t big_endian(std::string_view bytes) {
  std::uint32_t value = 0;
  for (const char c : bytes) value = (value << 8) | static_cast<std::uint8_t>(c);
  return value;
}

void append_byte(std::string& out, std::uint32_t value) {
  out.push_back(static_cast<char>(static_cast<std::uint8_t>(value & 0xFF)));
}

}  // namespace

std::optional<std::string_view> ByteCursor::take(std::size_t count) {
  if (count > remaining()) return std::nullopt;
  const std::string_view taken = bytes_.substr(at_, count);
  at_ += count;
  return taken;
}

std::optional<std::uint8_t> ByteCursor::u8() {
  if (at_end()) return std::nullopt;
  return static_cast<std::uint8_t>(bytes_[at_++]);
}

std::optional<std::uint16_t> ByteCursor::u16() {
  const auto bytes = take(2);
  if (!bytes) return std::nullopt;
  return static_cast<std::uint16_t>(big_endian(*bytes));
}

std::optional<std::uint32_t> ByteCursor::u32() {
  const auto bytes = take(4);
  if (!bytes) return std::nullopt;
  return big_endian(*bytes);
}

std::optional<std::uint32_t> ByteCursor::u32_little() {
  const auto bytes = take(4);
  if (!bytes) return std::nullopt;
  std::uint32_t value = 0;
  for (std::size_t i = 4; i-- > 0;) value = (value << 8) | static_cast<std::uint8_t>((*bytes)[i]);
  return value;
}

std::optional<std::uint32_t> ByteCursor::variable_length() {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < 4 && i < remaining(); ++i) {
    const auto byte = static_cast<std::uint8_t>(bytes_[at_ + i]);
    value = (value << 7) | (byte & 0x7Fu);
    if (byte < 0x80) {
      at_ += i + 1;
      return value;
    }
  }
  return std::nullopt;
}

void append_u16(std::string& out, std::uint32_t value) {
  append_byte(out, value >> 8);
  append_byte(out, value);
}

void append_u32(std::string& out, std::uint32_t value) {
  append_u16(out, value >> 16);
  append_u16(out, value);
}

void append_variable_length(std::string& out, std::uint32_t value) {
  assert(value <= kMaxVariableLength);
  for (int shift = 21; shift > 0; shift -= 7) {
    if (value >> shift != 0) append_byte(out, 0x80 | (value >> shift));
  }
  append_byte(out, value & 0x7F);
}

}  // namespace loftbeat::music
