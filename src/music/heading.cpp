#include "music/heading.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "music/poetic_metre.h"

namespace loftbeat::music {
namespace {

std::string small_letters(std::string_view text) {
  std::string small(text);
  for (char& c : small) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  return small;
}

std::string_view bare(std::string_view text) {
  const std::string_view space = " \t\r\n";
  const std::size_t first = text.find_first_not_of(space);
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(space) - first + 1);
}

// What stands behind "word:", bare; nothing if the line does not begin so.
std::optional<std::string_view> behind(std::string_view line, std::string_view word) {
  const std::string small = small_letters(line.substr(0, word.size()));
  if (small != word) return std::nullopt;
  const std::string_view rest = bare(line.substr(word.size()));
  if (rest.empty() || rest[0] != ':') return std::nullopt;
  return bare(rest.substr(1));
}

// The text between the first quotes; nothing if none are there.
std::optional<std::string_view> quoted(std::string_view text) {
  using std::string_view_literals::operator""sv;
  constexpr std::array<std::array<std::string_view, 2>, 4> kQuotes{
      {{"\""sv, "\""sv}, {"'"sv, "'"sv}, {"\u201C"sv, "\u201D"sv}, {"\u2018"sv, "\u2019"sv}}};
  for (const auto& [open, close] : kQuotes) {
    if (text.substr(0, open.size()) != open) continue;
    const std::size_t end = text.find(close, open.size());
    if (end == text.npos) return std::nullopt;
    return bare(text.substr(open.size(), end - open.size()));
  }
  return std::nullopt;
}

bool has_capitals_alone(std::string_view text) {
  std::size_t capitals = 0;
  for (const char c : text) {
    if (c >= 'a' && c <= 'z') return false;
    if (c >= 'A' && c <= 'Z') ++capitals;
  }
  return capitals >= 3;
}

// Behind other text a metre has at least three lines, and figures in more than one piece: a hymn's
// number, a page or a date is none.
bool is_plainly_metre(std::string_view text, const PoeticMetre& metre) {
  const bool digits = text.find_first_of("0123456789") != text.npos;
  const bool pieces = text.find_first_of(". ") < text.find_last_of("0123456789");
  return !digits || (metre.lines.size() >= 3 && pieces);
}

// "AZMON  C.M.": the longest end that is a metre is taken off.
std::string_view take_metre_off(std::string_view line, Score& score) {
  for (std::size_t at = 0; at < line.size(); ++at) {
    if (at > 0 && line[at - 1] != ' ' && line[at - 1] != '(') continue;
    const auto metre = parse_poetic_metre(line.substr(at));
    if (!metre || (at > 0 && !is_plainly_metre(line.substr(at), *metre))) continue;
    if (score.poetic_metre.empty()) score.poetic_metre = format_poetic_metre(*metre);
    std::string_view rest = line.substr(0, at);
    while (!rest.empty() && std::string_view(" (,.-").find(rest.back()) != std::string_view::npos)
      rest.remove_suffix(1);
    return rest;
  }
  return line;
}

void take_tune(std::string_view name, Score& score) {
  name = bare(name);
  if (score.tune.empty() && !name.empty() && name.size() <= kLongestTuneName) score.tune = name;
}

}  // namespace

void take_heading(std::string_view line, HeadingPlace place, Score& score) {
  line = bare(line.substr(0, 400));
  for (const std::string_view word : {"metre", "meter"}) {
    if (const auto rest = behind(line, word)) {
      take_metre_off(*rest, score);
      return;
    }
  }
  for (const std::string_view word : {"tune", "tune name", "melody", "music"}) {
    const auto rest = behind(line, word);
    if (!rest) continue;
    if (const auto name = quoted(*rest)) {
      take_tune(*name, score);
    } else if (word.substr(0, 4) == "tune") {
      const std::string_view named = take_metre_off(*rest, score);
      take_tune(named.substr(0, named.find_first_of(",;(")), score);
    }
    return;
  }
  if (small_letters(line).find("copyright") != std::string::npos) return;
  const std::string_view rest = take_metre_off(line, score);
  const bool may_be_name = place == HeadingPlace::below_title || rest.size() < line.size();
  if (may_be_name && has_capitals_alone(rest)) take_tune(rest, score);
}

}  // namespace loftbeat::music
