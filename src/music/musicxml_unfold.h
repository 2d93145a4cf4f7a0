#pragma once

#include "music/musicxml_written.h"

namespace loftbeat::music {

// Plays the written score through once: repeats taken, ties merged, marks in score time, phrases
// found. Requires bars combined and voices assigned. Throws ReadFailure (too_large) if the repeats
// unfold to more than kMaxPlayedBars bars or kMaxNotes notes, and (unreadable) if no note is
// played.
//
// A tie stop joins the note of the same part and pitch that was begun with a tie and ends just
// there, in its own voice if there is one, else in any; a stop that finds none is struck, and a
// start that meets no stop is an ordinary note. A note that rings past the last bar ends with it.
// A jump brings back the tempo and the key that were in force where it goes.
[[nodiscard]] Score unfold(const WrittenScore& written);

}  // namespace loftbeat::music
