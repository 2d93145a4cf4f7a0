#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "music/score.h"

// A tune as Debian's abc2midi (package abcmidi) plays it, and the comparison with our reading.
namespace loftbeat::music {

// What abc2midi makes of one tune.
struct OtherReading {
  struct Sound {
    std::int64_t onset = 0;  // file ticks, 480 to a quarter
    std::int64_t end = 0;
    int pitch = 0;
    friend auto operator<=>(const Sound&, const Sound&) = default;
  };
  std::vector<std::vector<Sound>> tracks;  // those that have notes; each sorted
  std::string errors;                      // the lines in which abc2midi tells an error
};

// Runs abc2midi on the text of a file (fermatas not held, no grace notes, no chord symbols, the
// notes of a chord struck together). Nothing if it is not there or wrote no file.
std::optional<OtherReading> read_with_abc2midi(const std::string& bytes, int number);

// How the two readings agree, note for note.
struct Agreement {
  std::size_t notes = 0;       // of ours
  std::size_t same = 0;        // that the other reading has too: pitch, onset and end
  std::size_t only_there = 0;  // notes that only the other one has
  bool voices = true;          // no voice of ours lies on two tracks
  std::string first;           // the first difference, in words; empty if there is none
  [[nodiscard]] bool complete() const { return same == notes && only_there == 0 && voices; }
};

// abc2midi begins all notes one tick of 480 late and ends them in time; one tick more or less, of
// onset and end, is taken as rounding of tuplets.
Agreement compare(const Score& ours, const OtherReading& other);

}  // namespace loftbeat::music
