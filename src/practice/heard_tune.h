#pragma once

#include <vector>

#include "base/base.h"
#include "take/take.h"

namespace loftbeat::practice {

// One note of the tune as it was played.
struct HeardNote {
  double at = 0;   // seconds from the first
  int pitch = 60;  // MIDI key
};

// More than the first so many are not compared: about two lines.
inline constexpr std::size_t kMostHeardNotes = 28;

// The tune out of a performance: keys that go down together (a chord may be spread over 0.05 to
// 0.12 s, the slower the playing the more) are one onset, its highest key the tune; an onset below
// a key that stays down is another voice's. Pure; linear in the number of notes.
[[nodiscard]] std::vector<HeardNote> heard_tune(const take::CleanTake& take);

}  // namespace loftbeat::practice
