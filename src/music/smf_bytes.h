#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace loftbeat::music {

// The numbers of a Standard MIDI File (RP-001): big-endian words, and variable-length quantities
// of seven bits a byte, the most significant first, every byte but the last with its top bit set.
// Worked example: 0x80 is the two bytes 81 00.

// The largest variable-length quantity that RP-001 allows (four bytes).
inline constexpr std::uint32_t kMaxVariableLength = 0x0FFFFFFF;

// Walks over bytes that it does not own. No read goes past the end; a failed read moves nothing.
class ByteCursor {
 public:
  explicit ByteCursor(std::string_view bytes) : bytes_(bytes) {}

  [[nodiscard]] std::size_t position() const { return at_; }
  [[nodiscard]] std::size_t remaining() const { return bytes_.size() - at_; }
  [[nodiscard]] bool at_end() const { return at_ == bytes_.size(); }

  // Requires !at_end().
  [[nodiscard]] std::uint8_t peek() const { return static_cast<std::uint8_t>(bytes_[at_]); }
  // Moves on by `count`, at most to the end.
  void skip(std::size_t count) { at_ += count < remaining() ? count : remaining(); }

  // Exactly `count` bytes, or nothing.
  [[nodiscard]] std::optional<std::string_view> take(std::size_t count);
  [[nodiscard]] std::optional<std::uint8_t> u8();
  [[nodiscard]] std::optional<std::uint16_t> u16();
  [[nodiscard]] std::optional<std::uint32_t> u32();
  // Little-endian, as RIFF has it.
  [[nodiscard]] std::optional<std::uint32_t> u32_little();
  // Nothing if the bytes end, or if the number runs on beyond four bytes.
  [[nodiscard]] std::optional<std::uint32_t> variable_length();

 private:
  std::string_view bytes_;
  std::size_t at_ = 0;
};

void append_u16(std::string& out, std::uint32_t value);
void append_u32(std::string& out, std::uint32_t value);
// Requires value <= kMaxVariableLength.
void append_variable_length(std::string& out, std::uint32_t value);

}  // namespace loftbeat::music
