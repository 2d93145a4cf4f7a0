#pragma once

#include <vector>

#include "music/smf_score_notes.h"

namespace loftbeat::music {

// A note in score time that has no voice yet.
struct GridNote {
  Tick onset = 0;
  Tick length = 0;
  int pitch = 60;
  int part = 0;
};

struct GridNotes {
  std::vector<GridNote> notes;  // sorted by (onset, part, pitch)
  bool quantised = false;       // onsets lay off the grid and were moved
  std::size_t lengthened = 0;   // notes cut short by the export and rounded up
};

// Score ticks of a file tick, rounded to the nearest, halves up. Requires ticks >= 0.
// Worked example: 480 to the quarter: tick 160 (a triplet quaver) -> 3360.
[[nodiscard]] Tick score_tick(std::int64_t ticks, std::int64_t ticks_per_quarter);

// The same, moved to the grid of notated music if that is no further than a tick of the file.
[[nodiscard]] Tick notated_tick(std::int64_t ticks, std::int64_t ticks_per_quarter);

// Puts the notes of a file into score time.
//
// A notation program's file is taken exactly: six tenths of its onsets (nine where the division is
// coarser than 192) lie on 16ths or 12ths of a quarter, or 97 in 100 on 32nds, 24ths, 20ths or
// 28ths, give or take one tick of a fine
// division, which is taken off again. Anything else was played, and each
// beat's onsets move to the nearest semiquaver, or triplet quaver where these fit plainly better.
//
// Lengths: where most notes end with an onset or on a beat they are taken as they are. Otherwise
// the file is detached (many programs sound 95 % of a note), and each note is rounded up: to the
// next onset if that is near, else to the next plain value. No note runs into the next of its
// pitch and part, and none is without length.
[[nodiscard]] GridNotes put_on_grid(const SmfNotes& notes, std::int64_t ticks_per_quarter);

}  // namespace loftbeat::music
