#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "music/musicxml_written.h"

// What single fields of ABC say, as values: metre, unit, tempo and the words of V: and K:. Inside
// the reader only; the texts come without comment.
namespace loftbeat::music {

// Time inside the reader is counted finer than in ticks, so that rounded values of odd tuplets do
// not add up: 720720 to a tick is a multiple of every number to 16.
inline constexpr std::int64_t kAbcTimePerTick = 720'720;
inline constexpr std::int64_t kAbcTimePerWhole = 4 * kTicksPerQuarter * kAbcTimePerTick;

// The nearest tick.
[[nodiscard]] constexpr Tick abc_ticks(std::int64_t time) {
  return (time + kAbcTimePerTick / 2) / kAbcTimePerTick;
}

struct AbcFraction {
  int over = 1;
  int under = 1;
  friend bool operator==(const AbcFraction&, const AbcFraction&) = default;
};

// "3/4"; both from 1 to 9999. Spaces are allowed.
[[nodiscard]] std::optional<AbcFraction> parse_abc_fraction(std::string_view text);

// What M: says: a metre, or none.
struct AbcMetre {
  std::optional<Metre> metre;
  // 6/8, 9/8, 12/8 and their like: tuplets of 5, 7 and 9 are then in the time of 3.
  [[nodiscard]] bool compound() const { return metre && metre->beats % 3 == 0 && metre->beats > 3; }
  friend bool operator==(const AbcMetre&, const AbcMetre&) = default;
};

// "C", "C|", "none", "6/8", "2+3/8", "(2+3+2)/8"; nothing if it is none of these.
[[nodiscard]] std::optional<AbcMetre> parse_abc_metre(std::string_view text);

// The unit note length where no L: stands: 1/16 for metres below 3/4, else 1/8.
[[nodiscard]] AbcFraction abc_default_unit(const AbcMetre& metre);

struct AbcTempo {
  bool readable = true;
  std::optional<double> quarters_per_minute;  // nothing: words alone
};

// "1/4=100", "\"Slow\" 3/8=50", "1/4 3/8=40", and the older "C3=60" and "100", which count in
// `unit`. Readable means a tempo from 1 to 1000 quarters a minute, or words alone.
[[nodiscard]] AbcTempo parse_abc_tempo(std::string_view text, AbcFraction unit);

// One word of V: or K:, "clef=bass" or "bass"; the name is in lower case, quotes are taken off.
using AbcWord = std::pair<std::string, std::string>;
[[nodiscard]] std::vector<AbcWord> split_abc_words(std::string_view text);

// By how much a voice sounds above what is written.
struct AbcShift {
  int octaves = 0;       // octave=
  int clef_octaves = 0;  // treble-8, bass+8, treble-15
  int semitones = 0;     // transpose=
  [[nodiscard]] int total() const { return 12 * (octaves + clef_octaves) + semitones; }
};

// Takes what the word says of sounding pitch. False if it is a number out of range (10 octaves, 120
// semitones). Other words are passed over.
[[nodiscard]] bool take_abc_shift(const AbcWord& word, AbcShift& shift);

}  // namespace loftbeat::music
