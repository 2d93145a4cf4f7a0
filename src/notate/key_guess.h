#pragma once

#include <vector>

#include "music/score.h"

namespace loftbeat::notate {

struct KeyGuess {
  music::KeyMark key;    // at tick 0
  music::KeyMark other;  // the next likely one
  double margin = 0;     // how far it stands behind, 0 to 1; below 0.05 it may as well be that one
};

// The key by how long each note of the scale sounds: correlation with the profiles of Krumhansl and
// Kessler (1982; figures from memory), and 0.15 more for the key of the last bass note. -6 to 6
// fifths, major and minor. No notes: C major.
[[nodiscard]] KeyGuess guess_key(const std::vector<music::Note>& notes);

// "G major", "F sharp minor".
[[nodiscard]] std::string key_name(const music::KeyMark& key);
// "G", "Bb", "F#m", "E flat major", "a minor"; nothing if it is none of up to 7 signs.
[[nodiscard]] std::optional<music::KeyMark> key_from(const std::string& words);

}  // namespace loftbeat::notate
