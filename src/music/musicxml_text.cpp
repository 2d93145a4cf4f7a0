#include "music/musicxml_text.h"

#include <algorithm>
#include <cstdint>
#include <cstring>

namespace loftbeat::music {
namespace {

using std::string_view_literals::operator""sv;

constexpr const char* kSaveAgain = "Open the file in the program it comes from and save it again.";

enum class Encoding { utf8, utf16_little, utf16_big, latin1 };

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

// The XML declaration, if the text begins with one.
std::string_view declaration(std::string_view text) {
  if (!starts_with(text, "<?xml"sv)) return {};
  return text.substr(0, std::min<std::size_t>(text.find("?>"), 200));
}

Encoding detect(std::string_view bytes) {
  if (starts_with(bytes, "\xFF\xFE"sv) || starts_with(bytes, "<\0"sv)) {
    return Encoding::utf16_little;
  }
  if (starts_with(bytes, "\xFE\xFF"sv) || starts_with(bytes, "\0<"sv)) return Encoding::utf16_big;
  std::string head(declaration(bytes));
  std::transform(head.begin(), head.end(), head.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  const bool latin1 =
      head.find("iso-8859-1") != std::string::npos || head.find("latin1") != std::string::npos;
  return latin1 ? Encoding::latin1 : Encoding::utf8;
}

void append_utf8(std::string& out, std::uint32_t code) {
  const auto put = [&](std::uint32_t byte) { out.push_back(static_cast<char>(byte)); };
  if (code < 0x80) {
    put(code);
  } else if (code < 0x800) {
    put(0xC0 | (code >> 6));
    put(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    put(0xE0 | (code >> 12));
    put(0x80 | ((code >> 6) & 0x3F));
    put(0x80 | (code & 0x3F));
  } else {
    put(0xF0 | (code >> 18));
    put(0x80 | ((code >> 12) & 0x3F));
    put(0x80 | ((code >> 6) & 0x3F));
    put(0x80 | (code & 0x3F));
  }
}

std::string from_latin1(std::string_view bytes) {
  std::string text;
  text.reserve(bytes.size());
  for (const char c : bytes) append_utf8(text, static_cast<unsigned char>(c));
  return text;
}

class Utf16 {
 public:
  Utf16(std::string_view bytes, Encoding encoding)
      : bytes_(bytes), big_(encoding == Encoding::utf16_big) {}

  // Lone surrogates become U+FFFD, an odd last byte is dropped.
  std::string decode() const {
    std::string text;
    text.reserve(bytes_.size());
    for (std::size_t i = 0; i + 1 < bytes_.size(); i += 2) {
      std::uint32_t code = unit(i);
      if (code >= 0xD800 && code < 0xE000) {
        const std::uint32_t low = i + 3 < bytes_.size() ? unit(i + 2) : 0;
        const bool pair = code < 0xDC00 && low >= 0xDC00 && low < 0xE000;
        code = pair ? 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00) : 0xFFFD;
        if (pair) i += 2;
      }
      append_utf8(text, code);
    }
    return text;
  }

 private:
  std::uint32_t unit(std::size_t i) const {
    const auto first = static_cast<unsigned char>(bytes_[i]);
    const auto second = static_cast<unsigned char>(bytes_[i + 1]);
    return big_ ? (std::uint32_t{first} << 8) | second : (std::uint32_t{second} << 8) | first;
  }
  std::string_view bytes_;
  bool big_;
};

std::string to_utf8(std::string_view bytes) {
  std::string text;
  switch (detect(bytes)) {
    case Encoding::latin1: text = from_latin1(bytes); break;
    case Encoding::utf16_little: text = Utf16(bytes, Encoding::utf16_little).decode(); break;
    case Encoding::utf16_big: text = Utf16(bytes, Encoding::utf16_big).decode(); break;
    case Encoding::utf8: text = bytes; break;
  }
  if (starts_with(text, "\xEF\xBB\xBF"sv)) text.erase(0, 3);
  return text;
}

// Length of the well-formed character at `i` (Unicode 15, table 3-7), 0 if there is none.
std::size_t utf8_length(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) -> unsigned {
    return i + k < text.size() ? static_cast<unsigned char>(text[i + k]) : 0u;
  };
  const auto tail = [&](std::size_t k) { return (byte(k) & 0xC0) == 0x80; };
  const unsigned b = byte(0);
  if (b < 0x80) return b == 0 ? 0 : 1;
  if (b >= 0xC2 && b <= 0xDF) return tail(1) ? 2 : 0;
  if (b >= 0xE0 && b <= 0xEF) {
    const bool overlong = b == 0xE0 && byte(1) < 0xA0;
    const bool surrogate = b == 0xED && byte(1) > 0x9F;
    return tail(1) && tail(2) && !overlong && !surrogate ? 3 : 0;
  }
  if (b >= 0xF0 && b <= 0xF4) {
    const bool outside = (b == 0xF0 && byte(1) < 0x90) || (b == 0xF4 && byte(1) > 0x8F);
    return tail(1) && tail(2) && tail(3) && !outside ? 4 : 0;
  }
  return 0;
}

[[noreturn]] void fail(ErrorKind kind, std::string message, const std::string& name, int line) {
  throw ReadFailure{{kind, std::move(message), name, line, 0, kSaveAgain}};
}

// Length of the run of plain ASCII without NUL from `i` on, found eight bytes at a time.
std::size_t ascii_run(std::string_view text, std::size_t i) {
  constexpr std::uint64_t kHighBits = 0x8080808080808080u;
  constexpr std::uint64_t kOnes = 0x0101010101010101u;
  const std::size_t begin = i;
  for (; i + 8 <= text.size(); i += 8) {
    std::uint64_t word = 0;
    std::memcpy(&word, text.data() + i, sizeof word);
    // Subtracting one borrows into the high bit of a byte only if the byte was 0 or had it set.
    if (((word - kOnes) & kHighBits) != 0 || (word & kHighBits) != 0) break;
  }
  return i - begin;
}

void require_utf8(std::string_view text, const std::string& name) {
  for (std::size_t i = ascii_run(text, 0); i < text.size(); i += ascii_run(text, i)) {
    const std::size_t length = utf8_length(text, i);
    if (length == 0) {
      fail(ErrorKind::unreadable,
           "the text holds a byte that is not UTF-8; expected XML in UTF-8 or UTF-16", name,
           line_at(text, i));
    }
    i += length;
  }
}

// An upper bound for the elements, texts and attributes that the tree will hold.
void require_few_items(std::string_view text, const std::string& name) {
  std::size_t items = 0;
  char before = ' ';
  for (const char c : text) {
    items +=
        static_cast<std::size_t>(c == '=') + static_cast<std::size_t>(before == '<' && c != '/');
    before = c;
  }
  if (items > kMaxXmlItems) {
    fail(ErrorKind::too_large,
         "the file holds more than " + std::to_string(kMaxXmlItems) +
             " elements and attributes; expected a score of ordinary size",
         name, 0);
  }
}

}  // namespace

std::string decode_xml_text(std::string_view bytes, const std::string& name) {
  std::string text = to_utf8(bytes);
  require_utf8(text, name);
  require_few_items(text, name);
  return text;
}

std::string printable_text(std::string_view text) {
  std::string printable;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    if (length == 0) {
      printable.push_back(text[i] == '\0' ? ' ' : '?');
    } else if (length == 1) {
      printable.push_back(static_cast<unsigned char>(text[i]) < ' ' ? ' ' : text[i]);
    } else {
      printable.append(text.substr(i, length));
    }
    i += std::max<std::size_t>(length, 1);
  }
  return printable;
}

int line_at(std::string_view text, std::size_t offset) {
  const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(offset, text.size()));
  return 1 + static_cast<int>(std::count(text.begin(), end, '\n'));
}

}  // namespace loftbeat::music
