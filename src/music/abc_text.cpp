#include "music/abc_text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <iterator>

#include "music/musicxml_text.h"

namespace loftbeat::music {
namespace {

using std::string_view_literals::operator""sv;

constexpr std::size_t kMaxAbcTitleBytes = 400;

void append_code_point(std::string& out, std::uint32_t code) {
  if (code < 0x20 || (code >= 0xD800 && code < 0xE000) || code > 0x10FFFF) code = 0xFFFD;
  const auto put = [&](std::uint32_t byte) { out.push_back(static_cast<char>(byte)); };
  if (code < 0x80) {
    put(code);
    return;
  }
  if (code < 0x800) {
    put(0xC0 | (code >> 6));
  } else {
    put(code < 0x10000 ? 0xE0 | (code >> 12) : 0xF0 | (code >> 18));
    if (code >= 0x10000) put(0x80 | ((code >> 12) & 0x3F));
    put(0x80 | ((code >> 6) & 0x3F));
  }
  put(0x80 | (code & 0x3F));
}

// How many bytes a character takes by its first byte; 0 if none begins so.
std::size_t utf8_length_by_first(unsigned first) {
  if (first < 0x80) return 1;
  if (first < 0xC2 || first > 0xF4) return 0;
  if (first < 0xE0) return 2;
  return first < 0xF0 ? 3 : 4;
}

// How many bytes the character at `at` takes in well-formed UTF-8; 0 if it is not that.
std::size_t utf8_length(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) {
    return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0u;
  };
  const unsigned first = byte(0);
  const std::size_t length = utf8_length_by_first(first);
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return 0;
  }
  const unsigned second = byte(1);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool beyond = (first == 0xED && second > 0x9F) || (first == 0xF4 && second > 0x8F);
  return overlong || beyond ? 0 : length;
}

bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    if (length == 0) return false;
    i += length;
  }
  return true;
}

// Whether %%abc-charset or I:abc-charset names ISO-8859-1.
bool declares_latin1(std::string_view bytes) {
  const std::string head = abc_lower(bytes.substr(0, 65536));
  const std::size_t at = head.find("abc-charset");
  if (at == head.npos) return false;
  const std::string rest = head.substr(at, std::min<std::size_t>(head.find('\n', at) - at, 60));
  return rest.find("8859-1") != rest.npos || rest.find("latin1") != rest.npos;
}

// The accents of \'e and its like: the mark, and the letters that it can stand on with what comes
// out. Source: ABC 2.1, section 8.2.
struct Accent {
  char mark;
  std::string_view bases;
  std::u32string_view letters;
};

constexpr std::array kAccents = {
    Accent{'`', "AEIOUaeiou", U"ÀÈÌÒÙàèìòù"},
    Accent{'\'', "AEIOUYaeiouyCNSZcnsz", U"ÁÉÍÓÚÝáéíóúýĆŃŚŹćńśź"},
    Accent{'^', "AEIOUaeiouYy", U"ÂÊÎÔÛâêîôûŶŷ"},
    Accent{'~', "ANOanoIUiu", U"ÃÑÕãñõĨŨĩũ"},
    Accent{'"', "AEIOUYaeiouy", U"ÄËÏÖÜŸäëïöüÿ"},
    Accent{'c', "Cc", U"Çç"},
    Accent{'r', "AaUu", U"ÅåŮů"},
    Accent{'v', "CcSsZzEeRr", U"ČčŠšŽžĚěŘř"},
    Accent{'u', "AaEe", U"ĂăĔĕ"},
    Accent{'=', "AaEeOo", U"ĀāĒēŌō"},
    Accent{'/', "Oo", U"Øø"},
};

struct NamedLetter {
  std::string_view name;
  char32_t letter;
};

// Letters written \ss, and entities written &szlig;.
constexpr std::array kLigatures = {
    NamedLetter{"ss", U'ß'}, NamedLetter{"AE", U'Æ'}, NamedLetter{"ae", U'æ'},
    NamedLetter{"OE", U'Œ'}, NamedLetter{"oe", U'œ'}, NamedLetter{"aa", U'å'},
    NamedLetter{"AA", U'Å'}, NamedLetter{"DH", U'Ð'}, NamedLetter{"dh", U'ð'},
    NamedLetter{"TH", U'Þ'}, NamedLetter{"th", U'þ'},
};

constexpr std::array kEntities = {
    NamedLetter{"amp", U'&'},    NamedLetter{"lt", U'<'},     NamedLetter{"gt", U'>'},
    NamedLetter{"quot", U'"'},   NamedLetter{"nbsp", U' '},   NamedLetter{"copy", U'©'},
    NamedLetter{"szlig", U'ß'},  NamedLetter{"AElig", U'Æ'},  NamedLetter{"aelig", U'æ'},
    NamedLetter{"oslash", U'ø'}, NamedLetter{"Oslash", U'Ø'}, NamedLetter{"aring", U'å'},
    NamedLetter{"Aring", U'Å'},  NamedLetter{"ccedil", U'ç'}, NamedLetter{"Ccedil", U'Ç'},
    NamedLetter{"rsquo", U'’'},  NamedLetter{"lsquo", U'‘'},  NamedLetter{"ndash", U'–'},
    NamedLetter{"mdash", U'—'},  NamedLetter{"hellip", U'…'},
};

struct EntityAccent {
  std::string_view name;
  char mark;
};

constexpr std::array kEntityAccents = {
    EntityAccent{"grave", '`'}, EntityAccent{"acute", '\''}, EntityAccent{"circ", '^'},
    EntityAccent{"tilde", '~'}, EntityAccent{"uml", '"'},
};

std::optional<char32_t> accented(char mark, char base) {
  for (const Accent& accent : kAccents) {
    if (accent.mark != mark) continue;
    const std::size_t at = accent.bases.find(base);
    if (at != accent.bases.npos) return accent.letters[at];
  }
  return std::nullopt;
}

template <typename List>
std::optional<char32_t> named(const List& list, std::string_view name) {
  for (const NamedLetter& entry : list) {
    if (entry.name == name) return entry.letter;
  }
  return std::nullopt;
}

std::optional<char32_t> code_point(std::string_view digits, int base) {
  std::uint32_t code = 0;
  const auto [end, error] =
      std::from_chars(digits.data(), digits.data() + digits.size(), code, base);
  if (digits.empty() || error != std::errc{} || end != digits.data() + digits.size()) {
    return std::nullopt;
  }
  return static_cast<char32_t>(code);
}

// A resolved escape: what it means, and how many bytes it takes.
struct Escape {
  std::optional<char32_t> letter;
  std::size_t length = 1;
};

Escape read_backslash(std::string_view text) {
  if (text.size() >= 6 && text[1] == 'u') {
    if (const auto code = code_point(text.substr(2, 4), 16)) return {code, 6};
  }
  if (text.size() >= 3) {
    if (const auto letter = accented(text[1], text[2])) return {letter, 3};
    if (const auto letter = named(kLigatures, text.substr(1, 2))) return {letter, 3};
  }
  if (text.size() >= 2 && "%&\\~-_*|"sv.find(text[1]) != std::string_view::npos) {
    return {static_cast<char32_t>(text[1]), 2};
  }
  return {};
}

Escape read_entity(std::string_view text) {
  const std::size_t end = text.substr(0, 12).find(';');
  if (end == text.npos || end < 2) return {};
  const std::string_view name = text.substr(1, end - 1);
  if (name[0] == '#') {
    const bool hex = name.size() > 1 && (name[1] == 'x' || name[1] == 'X');
    return {code_point(name.substr(hex ? 2 : 1), hex ? 16 : 10), end + 1};
  }
  if (const auto letter = named(kEntities, name)) return {letter, end + 1};
  for (const EntityAccent& accent : kEntityAccents) {
    if (name.substr(1) == accent.name) return {accented(accent.mark, name[0]), end + 1};
  }
  return {};
}

}  // namespace

std::string decode_abc_text(std::string_view bytes, const std::string& name) {
  const auto refuse = [&](const char* message) {
    throw ReadFailure{
        {ErrorKind::unreadable, message, name, 0, 0, "Save it as UTF-8 from a text editor."}};
  };
  if (bytes.substr(0, 3) == "\xEF\xBB\xBF"sv) bytes.remove_prefix(3);
  if (bytes.substr(0, 2) == "\xFF\xFE"sv || bytes.substr(0, 2) == "\xFE\xFF"sv) {
    refuse("this text is in UTF-16; expected ABC in UTF-8 or ISO-8859-1.");
  }
  if (bytes.find('\0') != bytes.npos) {
    refuse("the file holds a byte 0; expected ABC, which is plain text.");
  }
  if (is_utf8(bytes) && !declares_latin1(bytes)) return std::string(bytes);
  std::string text;
  text.reserve(bytes.size() + bytes.size() / 8);
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80) {
      text.push_back(c);
    } else {
      append_code_point(text, byte);
    }
  }
  return text;
}

std::string plain_abc_text(std::string_view text) {
  std::string line;
  for (std::size_t i = 0; i < text.size() && line.size() < kMaxAbcTitleBytes;) {
    Escape escape;
    if (text[i] == '\\') escape = read_backslash(text.substr(i));
    if (text[i] == '&') escape = read_entity(text.substr(i));
    std::string piece;
    if (escape.letter) {
      append_code_point(piece, static_cast<std::uint32_t>(*escape.letter));
      i += escape.length;
    } else {
      const std::size_t length = std::max<std::size_t>(utf8_length(text, i), 1);
      piece = text.substr(i, length);
      i += length;
    }
    const bool space = piece.size() == 1 && static_cast<unsigned char>(piece[0]) <= ' ';
    if (space && (line.empty() || line.back() == ' ')) continue;
    if (line.size() + piece.size() > kMaxAbcTitleBytes) break;
    line += space ? " " : piece;
  }
  if (!line.empty() && line.back() == ' ') line.pop_back();
  return line;
}

std::string_view abc_trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r");
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

int abc_column(std::string_view line, std::size_t offset) {
  const std::string_view before = line.substr(0, offset);
  return 1 + static_cast<int>(std::count_if(before.begin(), before.end(), [](char c) {
           return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
         }));
}

std::optional<int> abc_number(std::string_view text) {
  if (text.empty() || text.size() > 9) return std::nullopt;
  if (!std::all_of(text.begin(), text.end(), is_abc_digit)) return std::nullopt;
  int value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

std::string abc_lower(std::string_view text) {
  std::string lower;
  std::transform(text.begin(), text.end(), std::back_inserter(lower),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return lower;
}

}  // namespace loftbeat::music
