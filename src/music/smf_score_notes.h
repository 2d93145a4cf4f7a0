#pragma once

#include <cstdint>
#include <vector>

#include "music/smf_file.h"

namespace loftbeat::music {

// A note of a file with its begin and end in file ticks; end >= begin.
struct SmfNote {
  std::int64_t on = 0;
  std::int64_t off = 0;
  std::uint8_t pitch = 60;
  int part = 0;  // counts the pairs of track and channel that hold notes, from 0
};

struct SmfNotes {
  std::vector<SmfNote> notes;  // sorted by (on, part, pitch)
  int parts = 0;
  std::size_t drums = 0;       // notes on channel 10, left out (kept if there are no others)
  std::size_t unreleased = 0;  // ended with their track
};

// Pairs strikes and releases. Of two notes of one key and part the one that began first ends
// first, so that a unison of two voices stays two notes.
[[nodiscard]] SmfNotes smf_notes(const SmfFile& file);

}  // namespace loftbeat::music
