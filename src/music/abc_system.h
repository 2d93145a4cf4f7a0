#pragma once

#include <string>

#include "music/abc_parts.h"
#include "music/musicxml_written.h"

namespace loftbeat::music {

// Lays the voices of a tune over each other: staves and parts from the top down, bars of all voices
// together with their numbers, voices numbered. The voices have to be finished; they are emptied.
// Says in notices where voices disagree about a bar, and which bars hold more than their metre.
[[nodiscard]] WrittenScore build_abc_system(AbcParts& parts, AbcReport& report);

}  // namespace loftbeat::music
