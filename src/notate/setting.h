#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/base.h"
#include "music/score.h"

namespace loftbeat::notate {

// What the player chose before playing. Times of the score count from its start, upbeat included.
struct Setting {
  int beats = 4;          // the metre: 1 to 16
  int beat_type = 4;      // 1, 2, 4, 8 or 16
  Tick upbeat = 0;        // what stands before the first bar line; 0 or more, less than a bar
  double tempo_bpm = 80;  // clicks a minute, 20 to 240; one click is beat_length()
  int voices = 4;         // at most so many parts, 1 to 4
  friend bool operator==(const Setting&, const Setting&) = default;
};

// The most bars that are noted; what is played after them is left out, and that is told.
inline constexpr int kMostBars = 400;

// Errors: what lies outside the ranges above, with what to do.
[[nodiscard]] Status check(const Setting& setting);

[[nodiscard]] Tick bar_length(const Setting& setting);
// One click: a third of the quavers in 6/8, 9/8 and 12/8 (a dotted crotchet), else one beat of the
// metre. Example: 6/8 -> 15120, 2/2 -> 20160.
[[nodiscard]] Tick beat_length(const Setting& setting);
[[nodiscard]] bool is_compound(const Setting& setting);
[[nodiscard]] double seconds_per_quarter(const Setting& setting);

// "4/4", "6/8". Errors: it is no metre, with what to write.
[[nodiscard]] Result<Setting> with_metre(Setting setting, const std::string& words);
// How much stands before the first bar line, in beats of the metre: "0", "1", "0.5", "1/2". Errors:
// no number, a bar or more, or finer than a semiquaver.
[[nodiscard]] Result<Setting> with_upbeat(Setting setting, const std::string& words);

// Where the bar that holds `at` begins (negative for the upbeat's), and its printed number.
[[nodiscard]] Tick bar_begin(const Setting& setting, Tick at);
[[nodiscard]] int bar_number(const Setting& setting, Tick at);
// Where bar `number` begins; 0 for the upbeat's, which begins at tick 0.
[[nodiscard]] TickSpan bar_span(const Setting& setting, int number);
// "bar 5, beat 2½"; in the upbeat "upbeat, beat 4". Beats are those of the metre.
[[nodiscard]] std::string place_words(const Setting& setting, Tick at);
// "5.2", "12", "8.3.5" (bar, beat, half) -> the tick. Errors: what is no such place.
[[nodiscard]] Result<Tick> place_from(const Setting& setting, const std::string& words);

// The bars from 0 to `end`, the last cut there.
[[nodiscard]] std::vector<music::Bar> bars_until(const Setting& setting, Tick end);

}  // namespace loftbeat::notate
