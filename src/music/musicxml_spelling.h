#pragma once

#include <optional>
#include <vector>

#include "base/base.h"

namespace loftbeat::music {

// A pitch as it is written. MIDI key = 12 * (octave + 1) + semitone of the step + alter.
struct SpelledPitch {
  char step = 'C';
  int alter = 0;
  int octave = 4;  // 0 to 9; keys below C0 are written in octave 0 with 12 flats
};

// Spells a key number in a signature of `fifths` (-7 to 7): the twelve degrees from the flat third
// to the sharp fifth of the major scale. Example: key 66 is F sharp in C, G flat in D flat.
[[nodiscard]] SpelledPitch spell(int pitch, int fifths);

// A note value with its dots; `actual` in the time of `normal` for a tuplet, 1 in 1 otherwise.
struct NoteValue {
  const char* type = "quarter";
  int dots = 0;
  int actual = 1;
  int normal = 1;
};

// The value that lasts `length` ticks: breve to 128th, at most two dots, triplets, quintuplets or
// septuplets. Nothing if there is none.
[[nodiscard]] std::optional<NoteValue> note_value(Tick length);

// Divides `length` into values that can be written, the longest first, each a multiple of `grain`;
// what is left over comes last, whether or not it can be written. They add up to `length`.
// Example: 25200 ticks (five quavers) give a minim and a quaver.
[[nodiscard]] std::vector<Tick> written_pieces(Tick length, Tick grain);

}  // namespace loftbeat::music
