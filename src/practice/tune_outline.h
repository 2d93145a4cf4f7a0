#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "music/score.h"

namespace loftbeat::practice {

// A tune as it is compared with playing: its top notes and where its lines begin.
struct OutlineNote {
  Tick onset = 0;  // from the start of the score
  int pitch = 60;  // MIDI key
  friend bool operator==(const OutlineNote&, const OutlineNote&) = default;
};

struct TuneOutline {
  std::vector<OutlineNote> notes;  // by onset, each onset once
  std::vector<std::size_t> lines;  // index of the first note of each line, rising; 0 first
  friend bool operator==(const TuneOutline&, const TuneOutline&) = default;
};

// More of a tune is not looked at: what is longer is no hymn.
inline constexpr std::size_t kMostOutlineNotes = 600;
inline constexpr std::size_t kMostOutlineLines = 32;

// The highest note of each onset, but for onsets below which a higher note is still held: there
// only lower voices move. Lines are the score's phrases; without phrases the tune is one line.
[[nodiscard]] TuneOutline outline_of(const music::Score& score);

}  // namespace loftbeat::practice
