#include "plan/words.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "plan/read.h"

namespace loftbeat::plan {
namespace {

template <typename Value, std::size_t N>
std::optional<Value> value_of(const std::array<Word<Value>, N>& words, std::string_view text) {
  for (const auto& [word, value] : words) {
    if (word == text) return value;
  }
  return std::nullopt;
}

template <typename Value, std::size_t N>
std::string word_of(const std::array<Word<Value>, N>& words, Value wanted) {
  for (const auto& [word, value] : words) {
    if (value == wanted) return std::string(word);
  }
  return {};
}

template <typename Value, std::size_t N>
std::vector<std::string> words_of(const std::array<Word<Value>, N>& words) {
  std::vector<std::string> all;
  all.reserve(N);
  for (const auto& [word, value] : words) all.emplace_back(word);
  return all;
}

template <typename Number>
std::optional<Number> parsed(std::string_view text) {
  Number value{};
  const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (failure != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

Error wrong(std::string_view what, std::string_view text, std::string_view expected,
            std::string hint = {}) {
  return Error{
      ErrorKind::wrong_use,
      fmt::format("{} {} is not understood; expected {}.", what, toml_text(text), expected),
      {},
      0,
      0,
      std::move(hint)};
}

std::optional<double> beats_from(std::string_view text) {
  const auto value = number_from(text);
  if (!value || *value < 0 || *value > kMostJoinBeats) return std::nullopt;
  return value;
}

}  // namespace

std::optional<double> number_from(std::string_view text) {
  const auto value = parsed<double>(text);
  if (!value || !std::isfinite(*value)) return std::nullopt;
  return value;
}

std::optional<int> integer_from(std::string_view text) { return parsed<int>(text); }

Result<Join> parse_join(std::string_view text) {
  Join join;
  const std::size_t plus = text.find('+');
  const std::string_view before = text.substr(0, plus);
  const std::string_view after = plus == text.npos ? "" : text.substr(plus + 1);
  if (before == "bar") {
    join.kind = JoinKind::by_the_bar;
    if (plus == text.npos) return join;
    const auto extra = integer_from(after);
    if (!extra || *extra < 0 || *extra > kMostExtraBars) return wrong("join", text, kJoinExpected);
    join.extra_bars = *extra;
    return join;
  }
  const auto hold = beats_from(before);
  const auto lift = beats_from(after);
  if (!hold || !lift) return wrong("join", text, kJoinExpected);
  join.hold_beats = *hold;
  join.lift_beats = *lift;
  return join;
}

std::string to_string(const Join& join) {
  if (join.kind == JoinKind::hold_and_lift) {
    return fmt::format("{}+{}", join.hold_beats, join.lift_beats);
  }
  return join.extra_bars == 0 ? "bar" : fmt::format("bar+{}", join.extra_bars);
}

// Both sets of note names are in use.
std::string_view american_name(std::string_view name) {
  if (name == "quaver") return "eighth";
  if (name == "crotchet") return "quarter";
  if (name == "dotted-crotchet") return "dotted-quarter";
  if (name == "minim") return "half";
  if (name == "dotted-minim") return "dotted-half";
  return name;
}

Result<BeatUnit> parse_beat_unit(std::string_view text) {
  if (const auto unit = value_of(kBeatUnits, american_name(text))) return *unit;
  return wrong("beat", text, "eighth, quarter, dotted-quarter, half or dotted-half",
               nearest_hint(text, words_of(kBeatUnits)));
}

std::string to_string(BeatUnit unit) { return word_of(kBeatUnits, unit); }
std::string to_string(Texture texture) { return word_of(kTextures, texture); }

Result<PlayOver> parse_play_over(std::string_view text) {
  PlayOver play_over;
  if (text == "all") text = "whole";  // as one says it on the command line
  if (const auto kind = value_of(kPlayOvers, text)) {
    play_over.kind = *kind;
    return play_over;
  }
  play_over.kind = PlayOverKind::phrases;
  std::string_view rest = text;
  while (true) {
    const std::size_t comma = rest.find(',');
    const auto phrase = integer_from(rest.substr(0, comma));
    if (!phrase || *phrase < 1 || *phrase > kMostPhrases) {
      return wrong("play-over", text,
                   "auto, none, all, first-and-last or phrase numbers such as 1,4");
    }
    play_over.phrases.push_back(*phrase);
    if (comma == rest.npos) return play_over;
    rest.remove_prefix(comma + 1);
  }
}

std::optional<FermataRule> fermata_from(std::string_view text) {
  if (text == "sign-only") return FermataRule{};
  if (text == "free") return FermataRule{FermataKind::free, 0};
  constexpr std::string_view kHold = "hold ";
  if (text.substr(0, kHold.size()) != kHold) return std::nullopt;
  const auto beats = beats_from(text.substr(kHold.size()));
  if (!beats) return std::nullopt;
  return FermataRule{FermataKind::hold, *beats};
}

std::string to_string(const FermataRule& rule) {
  switch (rule.kind) {
    case FermataKind::hold: return fmt::format("hold {}", rule.extra_beats);
    case FermataKind::free: return "free";
    case FermataKind::sign_only: break;
  }
  return "sign-only";
}

std::optional<Place> place_from(std::string_view text) {
  Place place;
  const std::size_t colon = text.rfind(':');
  place.bar = std::string(text.substr(0, colon));
  if (place.bar.empty()) return std::nullopt;
  if (colon == text.npos) return place;
  const auto beat = number_from(text.substr(colon + 1));
  if (!beat || *beat < 1 || *beat > kMostBeatInBar) return std::nullopt;
  place.beat = *beat;
  return place;
}

std::string to_string(const Place& place) {
  const bool plain = place.beat == 1 && place.bar.find(':') == std::string::npos;
  return plain ? place.bar : fmt::format("{}:{}", place.bar, place.beat);
}

}  // namespace loftbeat::plan
