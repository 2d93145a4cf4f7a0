#pragma once

#include <string>

#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::bench {

// A hymn of 16 bars, and so many verses of it planned that playing them lasts a given time.
struct LongPiece {
  music::Score score;
  plan::Plan plan;
  plan::Route route;
};

// Range of minutes: 1 to 120. A verse lasts about 38 s, so 120 minutes are 190 verses.
[[nodiscard]] LongPiece long_piece(int minutes);

// The piece played by a simulated person, as a Standard MIDI File: about 9 notes a second, with
// jitter, spread chords, a wandering tempo, 1 % wrong and 1 % missed notes. The same piece gives
// the same bytes.
[[nodiscard]] std::string long_take(const LongPiece& piece);

}  // namespace loftbeat::bench
