#pragma once

#include "music/abc_cursor.h"
#include "music/abc_voice.h"

namespace loftbeat::music {

// Whether a note begins here: an accidental or a letter from A to G.
[[nodiscard]] bool at_abc_note(const AbcCursor& cursor);

// Takes a note: accidental, letter, octave marks, length, tie. Lengths are in `unit`s. Fails for an
// accidental without a letter, and for lengths of 0 or beyond 4096 quarters.
[[nodiscard]] AbcPitch take_abc_note(AbcCursor& cursor, AbcFraction unit, AbcReport& report);

// Takes a length ("2", "3/2", "/", "//", nothing) as a time.
[[nodiscard]] std::int64_t take_abc_length(AbcCursor& cursor, AbcFraction unit, AbcReport& report);

// Takes a chord; the bracket stands here. Each note keeps its own length; the voice moves on by the
// first one's. Marks and texts within the brackets are left out.
[[nodiscard]] AbcEvent take_abc_chord(AbcCursor& cursor, AbcFraction unit, AbcReport& report);

}  // namespace loftbeat::music
