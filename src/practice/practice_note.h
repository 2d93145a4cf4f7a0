#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace loftbeat::practice {

// How a practice was made, as far as the take cannot tell. A TOML 1.0 file of its own in the
// practice's folder, `practice.toml`; a folder without one is a practice of a whole hymn without
// clicks.
//
//   click = "count-in"      "off", "count-in", "always" or "rests"; "off" if left out
//   cold = true             the day's first try, without count-in; false if left out
//   only = "join 2"         "play-over", or "join" and a verse; the whole hymn if left out
//   singing = 60            people who sang along, 0 to 2000; 0 if left out
struct PracticeNote {
  std::string click = "off";
  bool cold = false;
  std::string only;
  int singing = 0;
  friend bool operator==(const PracticeNote&, const PracticeNote&) = default;

  // What is played under a sounding click shows following, not keeping.
  [[nodiscard]] bool under_clicks() const { return click == "always" || click == "rests"; }
};

// Errors name file and line: unknown keys with the nearest, words that are none of those.
[[nodiscard]] Result<PracticeNote> parse_practice_note(std::string_view text,
                                                       const std::string& path);
// A file that is not there is the note of a whole hymn without clicks.
[[nodiscard]] Result<PracticeNote> read_practice_note(const std::string& path);
[[nodiscard]] std::string format_practice_note(const PracticeNote& note);

}  // namespace loftbeat::practice
