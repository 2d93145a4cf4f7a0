#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "music/score.h"
#include "take/take.h"

namespace loftbeat::practice {

// What goes wrong, once, in the tune.
enum class Slip { none, substituted, missed, added, upbeat_left_out };
enum class Hands { four_parts, tune_alone };

// Somebody who plays lines of a hymn: chords spread, keys overlapping, any key, any speed.
struct LinePlayer {
  Slip slip = Slip::none;
  Hands hands = Hands::four_parts;
  double quarter_s = 0.6;   // length of a crotchet
  int transposed = 0;       // semitones
  double spread_s = 0.04;   // a chord's keys lie within so much
  double jitter_s = 0.015;  // SD of each chord
};

// Plays the phrases in the order given (a score without phrases: its first `kNotesOfALine` onsets).
// The slip is in the first of them.
inline constexpr std::size_t kNotesOfALine = 10;
[[nodiscard]] take::CleanTake play_lines(const music::Score& score,
                                         const std::vector<std::size_t>& phrases,
                                         const LinePlayer& player, std::uint64_t seed);

}  // namespace loftbeat::practice
