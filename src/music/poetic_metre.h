#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loftbeat::music {

// The metre of a hymn's words: how many syllables each line has.
struct PoeticMetre {
  std::vector<int> lines;  // in order, a doubled metre in full; empty: irregular
  bool refrain = false;    // "with refrain" and the like
  friend bool operator==(const PoeticMetre&, const PoeticMetre&) = default;
};

inline constexpr int kMostSyllablesOfLine = 16;
inline constexpr std::size_t kMostLinesOfVerse = 32;

// Reads a metre as hymn books print it: "8.6.8.6", "86.86", "8 7 8 7 D", "10.10.10.10 with
// refrain", "C.M.", "L. M. D.", "Short Metre", "8.8.8.8 (L.M.)", "Irregular". Nothing if the text
// is something else; fewer than four digits in one piece are a number, and so are those that begin
// with 1.
// Source: common practice, no source.
[[nodiscard]] std::optional<PoeticMetre> parse_poetic_metre(std::string_view text);

// As hymn books print it: "8.6.8.6 (C.M.)", "8.8.8.8 D (L.M.D.)", "8.7.8.7 with refrain",
// "irregular". Eight lines or more whose second half is as the first are written with a D.
[[nodiscard]] std::string format_poetic_metre(const PoeticMetre& metre);

}  // namespace loftbeat::music
