#include "report/utf8.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace loftbeat::report {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";
constexpr char32_t kBroken = 0xFFFD;

struct Step {
  char32_t code = kBroken;
  std::size_t bytes = 1;
};

std::uint32_t byte_at(std::string_view text, std::size_t i) {
  return static_cast<unsigned char>(text[i]);
}

// Shortest form, no surrogates, at most U+10FFFF (RFC 3629, section 3).
bool allowed(char32_t code, std::size_t bytes) {
  constexpr std::array<char32_t, 5> smallest = {0, 0, 0x80, 0x800, 0x10000};
  return code >= smallest[bytes] && code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF);
}

std::size_t length_of(std::uint32_t lead) {
  if (lead >= 0xC2 && lead <= 0xDF) return 2;
  if (lead >= 0xE0 && lead <= 0xEF) return 3;
  if (lead >= 0xF0 && lead <= 0xF4) return 4;
  return 0;
}

Step decode(std::string_view text, std::size_t i) {
  const std::uint32_t lead = byte_at(text, i);
  if (lead < 0x80) return {lead, 1};
  const std::size_t bytes = length_of(lead);
  if (bytes == 0 || i + bytes > text.size()) return {};
  std::uint32_t code = lead & (0xFFu >> (bytes + 1));
  for (std::size_t k = 1; k < bytes; ++k) {
    const std::uint32_t next = byte_at(text, i + k);
    if ((next & 0xC0u) != 0x80u) return {};
    code = (code << 6) | (next & 0x3Fu);
  }
  return allowed(code, bytes) ? Step{code, bytes} : Step{};
}

// Control characters, and the marks that turn the direction of writing round.
bool is_control(char32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x202A && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069) || code == 0x2028 || code == 0x2029;
}

struct Range {
  char32_t first;
  char32_t last;
};

template <std::size_t N>
bool within(char32_t code, const std::array<Range, N>& ranges) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [&](Range r) { return code >= r.first && code <= r.last; });
}

// The blocks that matter, from the Unicode block list.
std::size_t columns(char32_t code) {
  static constexpr std::array<Range, 6> none = {{{0x300, 0x36F},
                                                 {0x1AB0, 0x1AFF},
                                                 {0x1DC0, 0x1DFF},
                                                 {0x200B, 0x200F},
                                                 {0x20D0, 0x20FF},
                                                 {0xFE00, 0xFE0F}}};
  static constexpr std::array<Range, 7> two = {{{0x1100, 0x115F},
                                                {0x2E80, 0xA4CF},
                                                {0xAC00, 0xD7A3},
                                                {0xF900, 0xFAFF},
                                                {0xFF00, 0xFF60},
                                                {0x1F300, 0x1FAFF},
                                                {0x20000, 0x3FFFD}}};
  if (within(code, none)) return 0;
  return within(code, two) ? 2 : 1;
}

std::string_view entity(char c) {
  switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    default: return {};
  }
}

}  // namespace

std::string clean_text(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const Step step = decode(text, i);
    if (step.code == '\t' || step.code == '\n' || step.code == '\r') {
      out += ' ';
    } else if (step.code == kBroken || is_control(step.code)) {
      out += kReplacement;
    } else {
      out += text.substr(i, step.bytes);
    }
    // A replacement character that stands in the text is passed over whole.
    i += step.bytes;
  }
  return out;
}

std::size_t display_width(std::string_view clean) {
  std::size_t width = 0;
  for (std::size_t i = 0; i < clean.size();) {
    const Step step = decode(clean, i);
    width += columns(step.code);
    i += step.bytes;
  }
  return width;
}

std::string escape_markup(std::string_view text) {
  const std::string clean = clean_text(text);
  std::string out;
  out.reserve(clean.size());
  for (const char c : clean) {
    const std::string_view replaced = entity(c);
    if (replaced.empty()) {
      out += c;
    } else {
      out += replaced;
    }
  }
  return out;
}

}  // namespace loftbeat::report
