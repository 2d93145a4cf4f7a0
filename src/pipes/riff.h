#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

namespace loftbeat::pipes {

// Bytes of a RIFF file: little-endian numbers. Private to pipes/.
class Bytes {
 public:
  void u8(int value) { text_ += static_cast<char>(value); }
  void u16(unsigned value) {
    u8(static_cast<int>(value & 0xFFU));
    u8(static_cast<int>(value >> 8U & 0xFFU));
  }
  void s16(int value) { u16(static_cast<unsigned>(value) & 0xFFFFU); }
  void u32(std::uint32_t value) {
    u16(value & 0xFFFFU);
    u16(value >> 16U);
  }
  // A name of a fixed length, filled with zeros; at least the last byte is one.
  void name(std::string_view text, std::size_t length) {
    const std::string_view kept = text.substr(0, length - 1);
    text_ += kept;
    text_.append(length - kept.size(), '\0');
  }
  void raw(std::string_view bytes) { text_ += bytes; }
  [[nodiscard]] const std::string& text() const { return text_; }
  std::string take() { return std::move(text_); }

 private:
  std::string text_;
};

// A chunk: four letters, length, contents, a zero to make the whole even.
inline std::string chunk(std::string_view id, std::string_view contents) {
  Bytes bytes;
  bytes.raw(id);
  bytes.u32(static_cast<std::uint32_t>(contents.size()));
  bytes.raw(contents);
  if (contents.size() % 2 != 0) bytes.u8(0);
  return bytes.take();
}

// A list of chunks, or the file itself ("RIFF").
inline std::string list(std::string_view id, std::string_view type, std::string_view contents) {
  std::string body(type);
  body += contents;
  return chunk(id, body);
}

}  // namespace loftbeat::pipes
