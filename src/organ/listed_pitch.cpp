#include "organ/listed_pitch.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <vector>

#include "organ/read.h"

namespace loftbeat::organ {
namespace {

constexpr std::array<std::string_view, 7> kNumerals = {"II", "III", "IV", "V", "VI", "VII", "VIII"};

struct Token {
  std::string text;  // without primes
  std::size_t at = 0;
};

// The marks of feet, and fractions that are one letter.
struct Written {
  std::string_view bytes;
  std::string_view plain;
};
constexpr Written kWritten[] = {{"\xE2\x80\xB2", ""},     {"\xE2\x80\x99", ""},
                                {"\xE2\x85\x93", " 1/3"}, {"\xE2\x85\x94", " 2/3"},
                                {"\xE2\x85\x95", " 1/5"}, {"\xE2\x85\x96", " 2/5"},
                                {"\xE2\x85\x97", " 3/5"}, {"\xE2\x85\x98", " 4/5"},
                                {"\xC2\xBD", " 1/2"},     {"'", ""}};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

void push(std::vector<Token>& tokens, std::string_view text, std::size_t at) {
  std::string plain;
  for (std::size_t i = 0; i < text.size();) {
    const auto* mark =
        std::find_if(std::begin(kWritten), std::end(kWritten),
                     [&](const Written& one) { return text.substr(i).starts_with(one.bytes); });
    if (mark != std::end(kWritten)) {
      plain += mark->plain;
      i += mark->bytes.size();
      continue;
    }
    // "2-2/3"
    const bool joint = text[i] == '-' && i > 0 && is_digit(text[i - 1]) && i + 1 < text.size() &&
                       is_digit(text[i + 1]);
    plain += joint ? ' ' : text[i];
    ++i;
  }
  if (!plain.empty() && plain.front() == ' ') plain.erase(0, 1);
  tokens.push_back({plain, at});
}

std::vector<Token> tokens_of(std::string_view text) {
  std::vector<Token> tokens;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t from = text.find_first_not_of(" \t", begin);
    if (from == std::string_view::npos) break;
    const std::size_t to = std::min(text.find_first_of(" \t", from), text.size());
    push(tokens, text.substr(from, to - from), from);
    begin = to;
  }
  return tokens;
}

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::string numeral_of(std::string_view count) {
  if (count.size() != 1 || count[0] < '2' || count[0] > '8') return {};
  return std::string(kNumerals[static_cast<std::size_t>(count[0] - '2')]);
}

// The pitch in the last of the tokens, and how many of them it took.
struct Found {
  std::string pitch;
  double feet = 0;
  std::size_t tokens = 0;
};
Found found_in(const std::vector<Token>& tokens) {
  if (tokens.empty()) return {};
  std::size_t last = tokens.size() - 1;
  std::size_t besides = 0;
  const std::string& end = tokens[last].text;
  const bool ranks = is_one_of(end, {"ranks", "rks", "rk", "rks."});
  if (ranks || is_one_of(end, {"ft", "ft.", "feet", "foot"})) {
    if (last == 0) return {};
    --last;
    besides = 1;
  }
  const std::string& word = tokens[last].text;
  const bool numeral = std::find(kNumerals.begin(), kNumerals.end(), word) != kNumerals.end();
  if (numeral) return {word, 0, 1 + besides};
  if (ranks) return {numeral_of(word), 0, 1 + besides};
  if (last > 0 && word.find('/') != std::string::npos) {
    const std::string both = tokens[last - 1].text + " " + word;
    if (const auto feet = feet_from_text(both)) return {both, *feet, 2 + besides};
  }
  if (const auto feet = feet_from_text(word)) return {word, *feet, 1 + besides};
  return {};
}

}  // namespace

NamedPitch named_pitch(std::string_view text) {
  const std::vector<Token> tokens = tokens_of(text);
  const Found found = found_in(tokens);
  const std::size_t words = tokens.size() - found.tokens;
  NamedPitch named;
  named.pitch = found.pitch;
  named.feet = found.feet;
  named.pitch_at = words < tokens.size() ? tokens[words].at : text.size();
  std::string_view name = text.substr(0, named.pitch_at);
  const std::size_t end = name.find_last_not_of(" \t");
  named.name = std::string(name.substr(0, end == std::string_view::npos ? 0 : end + 1));
  return named;
}

bool is_octave_pitch(double feet) {
  const double octaves = std::log2(feet);
  return std::abs(octaves - std::round(octaves)) < 1e-6;
}

bool is_usual_pitch(double feet) {
  if (feet < 0.5 || feet > 64) return false;
  return is_octave_pitch(feet) || is_octave_pitch(feet * 3) || is_octave_pitch(feet * 5);
}

}  // namespace loftbeat::organ
