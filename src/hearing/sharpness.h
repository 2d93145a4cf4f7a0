#pragma once

#include <optional>

#include "hearing/loudness.h"

namespace loftbeat::hearing {

// Sharpness in acum by DIN 45692:2009. A ratio: taking away bass raises it, and it says nothing
// without the loudness beside it. None for what cannot be heard (0 sone).
// The constant is k = 0.11 (the standard allows 0.105 to 0.115); the divisor is N, not the sum of
// the 240 samples, which would give up to 2 % more for narrow sounds.
// Worked number: a critical-band noise at 1 kHz, 60 dB, is 1 acum by definition, here 1.005.
[[nodiscard]] std::optional<double> sharpness_acum(const Loudness& of);

// The weight that sharpness gives to the critical-band rate z, Bark: 1 up to 15.8, then rising.
// Example: 20 Bark -> 1.725.
[[nodiscard]] double sharpness_weight(double bark);

}  // namespace loftbeat::hearing
