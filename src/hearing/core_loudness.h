#pragma once

// From levels to core loudness, the first half of ISO 532-1's method. Private to hearing/.

#include <array>

#include "hearing/loudness.h"

namespace loftbeat::hearing {

using CoreLoudness = std::array<double, kCriticalBandCount>;  // sone per Bark

// Level that excites each critical band, after what the ear takes away, dB.
[[nodiscard]] std::array<double, kCriticalBandCount> excitation_levels(const BandLevels& levels,
                                                                       SoundField field);

[[nodiscard]] CoreLoudness core_loudness(const BandLevels& levels, SoundField field);

}  // namespace loftbeat::hearing
