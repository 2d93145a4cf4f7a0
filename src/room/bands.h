#pragma once

#include <array>
#include <cstddef>

#include "hearing/bands.h"

namespace loftbeat::room {

using hearing::BandLevels;
using hearing::BandMask;
using hearing::kBandCount;

// A figure for each third octave 25 Hz to 12.5 kHz.
using BandValues = std::array<double, kBandCount>;

// The octaves that figures are told in: 63 Hz to 8 kHz. A figure "of an octave" is the one at its
// middle, which is the middle of a third octave too: 63 Hz is band 4, 125 Hz band 7 and so on.
inline constexpr std::size_t kOctaveCount = 8;
inline constexpr std::array<double, kOctaveCount> kOctaveHz = {63,   125,  250,  500,
                                                               1000, 2000, 4000, 8000};
[[nodiscard]] constexpr std::size_t band_of_octave(std::size_t octave) { return 4 + 3 * octave; }

}  // namespace loftbeat::room
