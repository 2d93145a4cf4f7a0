#include "music/abc_fields.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "music/abc_text.h"

namespace loftbeat::music {
namespace {

constexpr int kMaxFractionPart = 9999;

std::optional<int> positive(std::string_view text) {
  const auto number = abc_number(abc_trimmed(text));
  if (!number || *number < 1 || *number > kMaxFractionPart) return std::nullopt;
  return number;
}

// "2+3" or "(2+3)".
std::optional<int> sum_of_beats(std::string_view text) {
  text = abc_trimmed(text);
  if (text.size() > 2 && text.front() == '(' && text.back() == ')') {
    text = text.substr(1, text.size() - 2);
  }
  int sum = 0;
  while (true) {
    const std::size_t plus = std::min(text.find('+'), text.size());
    const auto number = positive(text.substr(0, plus));
    if (!number) return std::nullopt;
    sum += *number;
    if (plus == text.size()) return sum;
    text.remove_prefix(plus + 1);
  }
}

bool is_note_value(int type) { return type >= 1 && type <= 64 && (type & (type - 1)) == 0; }

// The text without what stands in double quotes.
std::string unquoted(std::string_view text) {
  std::string rest;
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (!quoted && c != '"') rest.push_back(c);
  }
  return rest;
}

std::optional<double> beats_a_minute(std::string_view text) {
  const std::size_t digit = text.find_first_of("0123456789");
  if (digit == text.npos) return std::nullopt;
  text.remove_prefix(digit);
  double value = 0;
  const auto [end, error] =
      std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (error != std::errc{}) return std::nullopt;
  return value;
}

// Whole notes in what stands before the = of Q:.
std::optional<double> beat_of(std::string_view text, AbcFraction unit) {
  const double unit_whole = static_cast<double>(unit.over) / unit.under;
  text = abc_trimmed(text);
  if (!text.empty() && (text.front() == 'C' || text.front() == 'c')) {
    text = abc_trimmed(text.substr(1));
    if (text.empty()) return unit_whole;
    const auto times = positive(text);
    if (!times) return std::nullopt;
    return *times * unit_whole;
  }
  double sum = 0;
  while (!text.empty()) {
    const std::size_t space = std::min(text.find_first_of(" \t"), text.size());
    const auto fraction = parse_abc_fraction(text.substr(0, space));
    if (!fraction) return std::nullopt;
    sum += static_cast<double>(fraction->over) / fraction->under;
    text = abc_trimmed(text.substr(space));
  }
  if (sum <= 0) return std::nullopt;
  return sum;
}

// "+8" or "-15" at the end of a clef, in octaves.
int octaves_of_clef(std::string_view clef) {
  constexpr std::array<std::pair<std::string_view, int>, 4> kEnds = {
      {{"-8", -1}, {"+8", 1}, {"-15", -2}, {"+15", 2}}};
  for (const auto& [end, octaves] : kEnds) {
    if (clef.size() > end.size() && clef.substr(clef.size() - end.size()) == end) return octaves;
  }
  return 0;
}

bool is_clef(std::string_view word) {
  constexpr std::array<std::string_view, 7> kClefs = {"treble", "bass", "alto",    "tenor",
                                                      "none",   "perc", "baritone"};
  return std::any_of(kClefs.begin(), kClefs.end(),
                     [&](std::string_view clef) { return word.substr(0, clef.size()) == clef; });
}

bool take_number(const std::string& text, int most, int& into) {
  std::string_view digits = text;
  const bool minus = !digits.empty() && digits.front() == '-';
  if (minus || (!digits.empty() && digits.front() == '+')) digits.remove_prefix(1);
  const auto number = abc_number(digits);
  if (!number || *number > most) return false;
  into = minus ? -*number : *number;
  return true;
}

}  // namespace

std::optional<AbcFraction> parse_abc_fraction(std::string_view text) {
  text = abc_trimmed(text);
  const std::size_t slash = text.find('/');
  const auto over = positive(text.substr(0, slash));
  if (!over) return std::nullopt;
  if (slash == text.npos) return AbcFraction{*over, 1};
  const auto under = positive(text.substr(slash + 1));
  if (!under) return std::nullopt;
  return AbcFraction{*over, *under};
}

std::optional<AbcMetre> parse_abc_metre(std::string_view text) {
  text = abc_trimmed(text);
  if (text == "C") return AbcMetre{Metre{4, 4}};
  if (text == "C|") return AbcMetre{Metre{2, 2}};
  if (text.empty() || abc_lower(text) == "none") return AbcMetre{};
  const std::size_t slash = text.find('/');
  if (slash == text.npos) return std::nullopt;
  const auto beats = sum_of_beats(text.substr(0, slash));
  const auto type = positive(text.substr(slash + 1));
  if (!beats || !type || *beats > 256 || !is_note_value(*type)) return std::nullopt;
  return AbcMetre{Metre{*beats, *type}};
}

AbcFraction abc_default_unit(const AbcMetre& metre) {
  const bool short_bar = metre.metre && 4 * metre.metre->beats < 3 * metre.metre->beat_type;
  return {1, short_bar ? 16 : 8};
}

AbcTempo parse_abc_tempo(std::string_view text, AbcFraction unit) {
  const std::string words = unquoted(text);
  const std::string_view rest = abc_trimmed(words);
  if (rest.empty()) return {};
  const std::size_t equals = rest.find('=');
  std::optional<double> beat = static_cast<double>(unit.over) / unit.under;
  if (equals != rest.npos) beat = beat_of(rest.substr(0, equals), unit);
  const auto rate = beats_a_minute(equals == rest.npos ? rest : rest.substr(equals + 1));
  if (!beat || !rate) return {false, std::nullopt};
  const double quarters = 4.0 * *beat * *rate;
  if (quarters < 1 || quarters > 1000) return {false, std::nullopt};
  return {true, quarters};
}

std::vector<AbcWord> split_abc_words(std::string_view text) {
  std::vector<AbcWord> words;
  std::size_t i = 0;
  const auto value_at = [&](std::size_t& at) {
    const bool quoted = at < text.size() && text[at] == '"';
    const std::size_t begin = quoted ? at + 1 : at;
    const std::size_t end =
        std::min(quoted ? text.find('"', begin) : text.find_first_of(" \t", begin), text.size());
    at = quoted && end < text.size() ? end + 1 : end;
    return std::string(text.substr(begin, end - begin));
  };
  while (true) {
    i = std::min(text.find_first_not_of(" \t\r", i), text.size());
    if (i == text.size()) return words;
    const std::size_t end = std::min(text.find_first_of(" \t=\"", i), text.size());
    AbcWord word{abc_lower(text.substr(i, end - i)), {}};
    if (end < text.size() && text[end] == '=' && end > i) {
      i = end + 1;
      word.second = value_at(i);
    } else if (end == i) {
      if (text[i] == '=') ++i;
      word.first = abc_lower(value_at(i));
    } else {
      i = end;
    }
    words.push_back(std::move(word));
  }
}

bool take_abc_shift(const AbcWord& word, AbcShift& shift) {
  const auto& [name, value] = word;
  if (name == "octave") return take_number(value, 10, shift.octaves);
  if (name == "transpose" || name == "t") return take_number(value, 120, shift.semitones);
  if (name == "clef") {
    shift.clef_octaves = octaves_of_clef(value);
  } else if (value.empty() && is_clef(name)) {
    shift.clef_octaves = octaves_of_clef(name);
  }
  return true;
}

}  // namespace loftbeat::music
