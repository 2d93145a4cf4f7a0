#pragma once

#include "take/take.h"

namespace loftbeat::take {

// Turns events into notes: twins (the same key within 10 ms on coupled channels, both bounds
// inclusive) become one; a key held from two manuals ends with its last release; echoes of a
// thru loop and channels of an auto-accompaniment are left out; each such finding is a notice.
// Notes still down at the end are closed at the last event. Linear in the number of events.
[[nodiscard]] CleanTake clean(const Take& take);

}  // namespace loftbeat::take
