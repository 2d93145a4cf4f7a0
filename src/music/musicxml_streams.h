#pragma once

#include <cstdint>
#include <vector>

#include "music/score.h"

// How a score is laid out before it is written as MusicXML. Inside the writer only.
namespace loftbeat::music {

// A syllable, and whether its word was begun before it.
struct PlacedSyllable {
  Syllable sung;
  bool carries_on = false;
};

// What is written on a note besides the note.
struct NoteSigns {
  bool fermata = false;
  bool breath = false;
  bool line_end = false;
  std::vector<PlacedSyllable> words;  // begun on it, by verse
};

// Notation programs take so many voices on a staff and leave out what is beyond.
inline constexpr std::size_t kMostStreamsOfStaff = 4;

// Notes of one voice that do not overlap, but for chords of equal length: what can be written from
// left to right without going back. A voice has several where its notes overlap. On a staff with
// more than kMostStreamsOfStaff, notes of several voices share streams as chords.
struct VoiceStream {
  int voice = 0;                   // under which it is written
  int staff = 0;                   // where most of its notes are
  bool leads = false;              // writes the rests of its staff
  std::vector<std::size_t> notes;  // indices into Score::notes, by onset
};

struct WritingPlan {
  std::vector<VoiceStream> streams;  // by voice
  std::vector<NoteSigns> signs;      // by note
  std::vector<Tick> double_bars;     // sorted
  std::vector<Tick> fermata_rests;   // fermatas where no note begins, sorted
  std::vector<int> silent_staves;    // staves that lead no stream
  int line_verse = 1;                // the verse under which line ends are written
  Tick grain = 1;                    // every place and length is a multiple
};

[[nodiscard]] WritingPlan plan_writing(const Score& score);

}  // namespace loftbeat::music
