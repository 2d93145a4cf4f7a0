#include <fmt/format.h>

#include "base/toml_document.h"

namespace loftbeat {
namespace {

bool continues(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

// Length in bytes of the well-formed UTF-8 character at the front, 0 if there is none.
// Overlong forms, surrogates and values beyond U+10FFFF are not well-formed (RFC 3629).
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if (!continues(byte(i))) return 0;
  }
  const bool overlong = (first == 0xE0 && byte(1) < 0xA0) || (first == 0xF0 && byte(1) < 0x90);
  const bool surrogate = first == 0xED && byte(1) > 0x9F;
  const bool beyond = first == 0xF4 && byte(1) > 0x8F;
  return overlong || surrogate || beyond ? 0 : length;
}

std::string escaped(char c) {
  switch (c) {
    case '"': return "\\\"";
    case '\\': return "\\\\";
    case '\n': return "\\n";
    case '\t': return "\\t";
    case '\r': return "\\r";
    default: break;
  }
  if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) {
    return fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
  }
  return std::string(1, c);
}

}  // namespace

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  while (!text.empty()) {
    const std::size_t length = utf8_length(text);
    if (length == 0) {
      out += "\xEF\xBF\xBD";
    } else if (length == 1) {
      out += escaped(text.front());
    } else {
      out += text.substr(0, length);
    }
    text.remove_prefix(length == 0 ? 1 : length);
  }
  return out + "\"";
}

std::string toml_number(double value) { return fmt::format("{}", value); }

}  // namespace loftbeat
