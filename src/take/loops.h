#pragma once

#include <vector>

#include "take/strokes.h"

namespace loftbeat::take {

// What a MIDI loop (a thru connection that feeds the instrument's output back) did to a take.
struct Loops {
  // By slot: everything on it is the late copy of another slot.
  std::vector<bool> copies;
  // By slot: this slot's own notes come back on it so much later; 0 if they do not.
  std::vector<Nanoseconds> own_delay;
};

// A slot is a copy if at least nine tenths of its strokes, and of the strokes of the slot it
// copies, pair off in key and velocity, 10 to 60 ms late, with the same delay (give or take
// 3 ms) at the strike and at the release; eight pairs at least. Feet that are late by habit do
// not pass: their delay wanders by more, and they do not play all that the hands play.
// (Common practice, no source: a wired loop takes 1 to 50 ms and hardly wanders.)
// Linear in the number of strokes.
[[nodiscard]] Loops find_loops(const Strokes& strokes);

}  // namespace loftbeat::take
