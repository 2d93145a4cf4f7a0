#pragma once

#include <cstdint>
#include <vector>

#include "follow/onset_table.h"
#include "follow/stretch.h"
#include "follow/time_map.h"
#include "music/score.h"
#include "take/take.h"

namespace loftbeat::follow {

// Note by note: within one stretch, which played note is which score note. Each pitch is settled
// by itself: its score notes and its played notes, both in order of time, are paired so that
// little time lies between what was expected and what was played (an exact assignment by dynamic
// programming); what is far off stays alone. Then the times are learned anew from the pairs, and
// all is paired once more, more strictly.

// One pairing of a score note with a played note.
struct Pair {
  int score = 0;      // index into Score::notes
  int taken = 0;      // index into CleanTake::notes
  double off_ns = 0;  // played - expected
  bool octave = false;
};

struct MatchTask {
  const music::Score& score;
  const OnsetTable& table;
  const take::CleanTake& take;
  std::size_t first_note = 0;  // played notes [first_note, last_note) may be used
  std::size_t last_note = 0;
  Tick from = 0;  // score notes with onset in [from, to]
  Tick to = 0;
  int transpose = 0;                    // played pitch = score pitch + transpose
  std::uint64_t voices = ~0ull;         // bit set of the voices that may sound
  std::uint64_t octave_voices = ~0ull;  // of those, the ones that may sound in another octave
  int tune_shift = 0;  // semitones by which the tune alone is moved: 12 for an octave up
};

struct Matching {
  std::vector<Pair> pairs;  // by taken note
  TimeMap map;
};

// Pairs equal pitches. `start` is where the walk heard the tune. Linear in the number of notes
// for music in which the same key does not return more often than every few milliseconds.
[[nodiscard]] Matching match_notes(const MatchTask& task, const std::vector<Anchor>& start,
                                   double ns_per_tick);

// Pairs what is left over with the same note in another octave, where it sounds together with its
// onset (within a sixth of a second of the expected time). Adds to `matching`.
void match_octaves(const MatchTask& task, Matching& matching);

}  // namespace loftbeat::follow
