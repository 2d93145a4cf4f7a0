#pragma once

#include <cstdint>
#include <vector>

#include "take/strokes.h"

namespace loftbeat::take {

// Channels (bit 0 = channel 0) that are plainly a pedal division: at least four strokes between
// keys 24 and 67 (a pedalboard sends 36 to 67; common practice, no source), one note at a time
// but for the overlap of a legato (nine strokes in ten begin when the last one is released or
// about to be, within 150 ms), the lowest key sounding nine times in ten while other channels
// sound, and another channel that plays higher. `left_out` slots do not count.
[[nodiscard]] std::uint16_t find_pedal_channels(const Strokes& strokes,
                                                const std::vector<bool>& left_out);

}  // namespace loftbeat::take
