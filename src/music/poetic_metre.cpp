#include "music/poetic_metre.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

namespace loftbeat::music {
namespace {

struct NamedMetre {
  std::string_view letters;
  std::string_view word;
  std::array<int, 4> lines;
};
constexpr std::array<NamedMetre, 3> kNamedMetres{
    {{"cm", "common", {8, 6, 8, 6}}, {"lm", "long", {8, 8, 8, 8}}, {"sm", "short", {6, 6, 8, 6}}}};
constexpr std::size_t kLongestMetreText = 120;
constexpr std::size_t kLeastDoubled = 8;

// Letters small, and of everything else only digits, spaces and brackets; the rest is space.
std::string plain_metre_text(std::string_view text) {
  std::string plain;
  for (const char c : text) {
    const char small = c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
    const bool kept = (small >= 'a' && small <= 'z') || (c >= '0' && c <= '9');
    const std::string_view between = " .,:;/-'\t()[]";
    if (!kept && between.find(c) == between.npos) return {};
    plain.push_back(kept ? small : ' ');
  }
  return plain;
}

std::vector<std::string> metre_words(const std::string& plain) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : plain + " ") {
    if (c != ' ') {
      word.push_back(c);
    } else if (!word.empty()) {
      words.push_back(std::exchange(word, {}));
    }
  }
  return words;
}

bool is_number(const std::string& word) {
  return !word.empty() &&
         std::all_of(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; });
}

// "86" is eight and six, "10" ten, "1211" twelve and eleven.
bool append_lines(const std::string& digits, std::vector<int>& lines) {
  for (std::size_t i = 0; i < digits.size(); ++i) {
    int syllables = digits[i] - '0';
    if (syllables == 1 && i + 1 < digits.size()) syllables = 10 + digits[++i] - '0';
    if (syllables < 2 || syllables > kMostSyllablesOfLine) return false;
    if (lines.size() == kMostLinesOfVerse) return false;
    lines.push_back(syllables);
  }
  return true;
}

class MetreWords {
 public:
  explicit MetreWords(std::vector<std::string> words) : words_(std::move(words)) {}

  std::optional<PoeticMetre> read() {
    if (words_.empty()) return std::nullopt;
    if (words_[0] == "irregular" || words_[0] == "irr") {
      ++at_;
    } else if (!read_name() && !read_numbers()) {
      return std::nullopt;
    }
    read_doubling();
    read_refrain();
    if (at_ < words_.size() && !same_again()) return std::nullopt;
    return metre_;
  }

 private:
  [[nodiscard]] bool is(std::string_view word) const {
    return at_ < words_.size() && words_[at_] == word;
  }

  // "cm", "c m", "cmd", "dcm", "common metre".
  bool read_name() {
    std::size_t next = at_;
    std::string letters;
    while (next < words_.size() && words_[next].size() <= 3 && !is_number(words_[next]) &&
           letters.size() < 3) {
      letters += words_[next++];
    }
    for (const NamedMetre& named : kNamedMetres) {
      const bool twice = letters == std::string(named.letters) + "d" ||
                         letters == "d" + std::string(named.letters);
      if (letters == named.letters || twice) {
        at_ = next;
        take(named, twice);
        return true;
      }
      if (!is(named.word) || at_ + 1 >= words_.size()) continue;
      if (words_[at_ + 1] != "metre" && words_[at_ + 1] != "meter") continue;
      at_ += 2;
      take(named, false);
      return true;
    }
    return false;
  }

  void take(const NamedMetre& named, bool twice) {
    metre_.lines.assign(named.lines.begin(), named.lines.end());
    if (twice) double_lines();
  }

  bool read_numbers() {
    const std::size_t first = at_;
    while (at_ < words_.size() && is_number(words_[at_])) {
      if (!append_lines(words_[at_++], metre_.lines)) return false;
    }
    // "1867" is a year and "273" the number of a hymn.
    const bool number = at_ - first == 1 && (words_[first][0] == '1' || words_[first].size() < 4);
    return metre_.lines.size() >= 2 && !number;
  }

  void read_doubling() {
    if (!is("d") && !is("double") && !is("doubled")) return;
    ++at_;
    double_lines();
  }

  void double_lines() {
    const std::vector<int> once = metre_.lines;
    if (2 * once.size() <= kMostLinesOfVerse)
      metre_.lines.insert(metre_.lines.end(), once.begin(), once.end());
  }

  void read_refrain() {
    const bool said = is("with") || is("and") || is("refrain") || is("ref");
    if (!said) return;
    metre_.refrain = true;
    at_ = words_.size();
  }

  // The metre once more in the other notation: "8 6 8 6 cm".
  bool same_again() {
    MetreWords rest(
        std::vector<std::string>(words_.begin() + static_cast<std::ptrdiff_t>(at_), words_.end()));
    const auto again = rest.read();
    return again && again->lines == metre_.lines;
  }

  std::vector<std::string> words_;
  std::size_t at_ = 0;
  PoeticMetre metre_;
};

bool begins_with_lines(const std::vector<int>& lines, const NamedMetre& named) {
  return lines.size() >= named.lines.size() &&
         std::equal(named.lines.begin(), named.lines.end(), lines.begin());
}

}  // namespace

std::optional<PoeticMetre> parse_poetic_metre(std::string_view text) {
  if (text.size() > kLongestMetreText) return std::nullopt;
  return MetreWords(metre_words(plain_metre_text(text))).read();
}

std::string format_poetic_metre(const PoeticMetre& metre) {
  const auto half = static_cast<std::ptrdiff_t>(metre.lines.size() / 2);
  const bool twice =
      metre.lines.size() >= kLeastDoubled && metre.lines.size() % 2 == 0 &&
      std::equal(metre.lines.begin(), metre.lines.begin() + half, metre.lines.begin() + half);
  const std::vector<int> once(metre.lines.begin(),
                              twice ? metre.lines.begin() + half : metre.lines.end());
  std::string text;
  for (const int syllables : once) text += (text.empty() ? "" : ".") + std::to_string(syllables);
  if (text.empty()) text = "irregular";
  if (twice) text += " D";
  for (const NamedMetre& named : kNamedMetres) {
    if (once.size() != named.lines.size() || !begins_with_lines(once, named)) continue;
    text += " (";
    for (const char c : named.letters) text += std::string(1, static_cast<char>(c - 32)) + ".";
    text += twice ? "D.)" : ")";
  }
  return metre.refrain ? text + " with refrain" : text;
}

}  // namespace loftbeat::music
