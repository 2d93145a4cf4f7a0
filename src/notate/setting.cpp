#include "notate/setting.h"

#include <algorithm>
#include <charconv>
#include <utility>

namespace loftbeat::notate {
namespace {

Error refused(std::string message, std::string hint) {
  return {ErrorKind::wrong_use, std::move(message), "", 0, 0, std::move(hint)};
}

// A whole number that is all of the text.
std::optional<int> whole(std::string_view text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size() || text.empty()) return std::nullopt;
  return number;
}

std::optional<double> decimal(std::string_view text) {
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size() || text.empty()) return std::nullopt;
  return number;
}

// "0.5", "1/2", "1 1/2" is not taken: a fraction or a decimal number.
std::optional<double> number_of(std::string_view text) {
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos) return decimal(text);
  const auto above = whole(text.substr(0, slash));
  const auto below = whole(text.substr(slash + 1));
  if (!above || !below || *below <= 0) return std::nullopt;
  return static_cast<double>(*above) / *below;
}

Tick unit_of(const Setting& setting) { return 4 * kTicksPerQuarter / setting.beat_type; }

// 1.5 -> "1½"; finer places with two digits.
std::string beat_words(Tick ticks, Tick unit) {
  const Tick beat = ticks / unit + 1;
  const Tick rest = ticks % unit;
  std::string words = std::to_string(beat);
  if (rest == 0) return words;
  if (rest * 2 == unit) return words + "½";
  if (rest * 4 == unit) return words + "¼";
  if (rest * 4 == 3 * unit) return words + "¾";
  if (rest * 3 == unit) return words + "⅓";
  if (rest * 3 == 2 * unit) return words + "⅔";
  const Tick hundredths = rest * 100 / unit;
  return words + (hundredths < 10 ? ".0" : ".") + std::to_string(hundredths);
}

constexpr const char* kPlaceHint =
    "Write bar and beat with a full stop between them, as 5.4 or 12.";

}  // namespace

Status check(const Setting& s) {
  constexpr int kTypes[] = {1, 2, 4, 8, 16};
  if (s.beats < 1 || s.beats > 16 ||
      std::find(std::begin(kTypes), std::end(kTypes), s.beat_type) == std::end(kTypes))
    return refused("the metre is none that can be noted.", "Write it as 4/4, 3/4, 2/2 or 6/8.");
  if (s.upbeat < 0 || s.upbeat >= bar_length(s))
    return refused(
        "the upbeat is as long as a bar or longer.",
        "Give the beats before the first bar line: 0 if the hymn begins with a whole bar.");
  if (!(s.tempo_bpm >= 20 && s.tempo_bpm <= 240))
    return refused("the tempo lies outside 20 to 240 clicks a minute.",
                   "Choose one between, as 80.");
  if (s.voices < 1 || s.voices > 4)
    return refused("the parts must be 1 to 4.", "Leave the option out for four parts.");
  return {};
}

Tick bar_length(const Setting& setting) { return setting.beats * unit_of(setting); }

bool is_compound(const Setting& setting) {
  return setting.beat_type >= 8 && setting.beats > 3 && setting.beats % 3 == 0;
}

Tick beat_length(const Setting& setting) {
  return is_compound(setting) ? 3 * unit_of(setting) : unit_of(setting);
}

double seconds_per_quarter(const Setting& setting) {
  return 60.0 / setting.tempo_bpm / quarters(beat_length(setting));
}

Result<Setting> with_metre(Setting setting, const std::string& words) {
  const std::size_t slash = words.find('/');
  const std::string_view text = words;
  const auto beats = slash == std::string::npos ? std::nullopt : whole(text.substr(0, slash));
  const auto type = slash == std::string::npos ? std::nullopt : whole(text.substr(slash + 1));
  if (!beats || !type)
    return refused("\"" + words + "\" is no metre.", "Write it as 4/4, 3/4, 2/2 or 6/8.");
  setting.beats = *beats;
  setting.beat_type = *type;
  setting.upbeat = 0;
  if (Status status = check(setting); !status) return status.error();
  return setting;
}

Result<Setting> with_upbeat(Setting setting, const std::string& words) {
  const auto number = number_of(words);
  const Tick unit = unit_of(setting);
  if (!number || !(*number >= 0 && *number <= 16))
    return refused("\"" + words + "\" is no number of beats.",
                   "Write how many beats stand before the first bar line, as 0, 1 or 0.5.");
  const auto ticks = static_cast<Tick>(*number * static_cast<double>(unit) + 0.5);
  if (ticks % (kTicksPerQuarter / 4) != 0)
    return refused("an upbeat of " + words + " beats cannot be noted.",
                   "Write whole beats, halves or quarters, as 1, 0.5 or 0.25.");
  setting.upbeat = ticks;
  if (Status status = check(setting); !status) return status.error();
  return setting;
}

Tick bar_begin(const Setting& setting, Tick at) {
  const Tick bar = bar_length(setting);
  const Tick after = at - setting.upbeat;
  const Tick index = after >= 0 ? after / bar : -1;
  return setting.upbeat + index * bar;
}

int bar_number(const Setting& setting, Tick at) {
  if (at < setting.upbeat) return 0;
  return static_cast<int>((at - setting.upbeat) / bar_length(setting)) + 1;
}

TickSpan bar_span(const Setting& setting, int number) {
  if (number <= 0) return {0, setting.upbeat};
  const Tick begin = setting.upbeat + (number - 1) * bar_length(setting);
  return {begin, begin + bar_length(setting)};
}

std::string place_words(const Setting& setting, Tick at) {
  const int number = bar_number(setting, at);
  const std::string beat = beat_words(at - bar_begin(setting, at), unit_of(setting));
  return (number == 0 ? "upbeat" : "bar " + std::to_string(number)) + ", beat " + beat;
}

Result<Tick> place_from(const Setting& setting, const std::string& words) {
  const std::string_view text = words;
  const std::size_t stop = text.find('.');
  const auto bar = whole(text.substr(0, stop));
  const auto beat =
      stop == std::string_view::npos ? std::optional<double>(1) : decimal(text.substr(stop + 1));
  if (!bar || *bar < 0 || *bar > kMostBars || !beat || !(*beat >= 1 && *beat < setting.beats + 1))
    return refused("\"" + words + "\" is no place of the hymn.", kPlaceHint);
  const auto into = static_cast<Tick>((*beat - 1) * static_cast<double>(unit_of(setting)) + 0.5);
  const Tick begin = setting.upbeat + (*bar - 1) * bar_length(setting);
  if (begin + into < 0)
    return refused("\"" + words + "\" lies before the hymn's first note.", kPlaceHint);
  return begin + into;
}

std::vector<music::Bar> bars_until(const Setting& setting, Tick end) {
  std::vector<music::Bar> bars;
  if (setting.upbeat > 0 && end > 0)
    bars.push_back({0, std::min(end, setting.upbeat), "0", setting.beats, setting.beat_type, true});
  const Tick bar = bar_length(setting);
  int number = 1;
  for (Tick at = setting.upbeat; at < end; at += bar)
    bars.push_back({at, std::min(bar, end - at), std::to_string(number++), setting.beats,
                    setting.beat_type, false});
  return bars;
}

}  // namespace loftbeat::notate
