#pragma once

#include <optional>
#include <span>

#include "hearing/bands.h"
#include "hearing/spectrum.h"

namespace loftbeat::hearing {

// Spectral centroid, Hz: the mean frequency weighted with power (not with amplitude, which would
// give a higher figure). None for silence. Worked number: 200 Hz and 400 Hz at the same level
// give 300 Hz; with the upper one 10 dB weaker 218.2 Hz.
[[nodiscard]] std::optional<double> centroid_hz(std::span<const Partial> partials);
// The same from third octaves, each taken at its exact middle.
[[nodiscard]] std::optional<double> centroid_hz(const BandLevels& levels);

}  // namespace loftbeat::hearing
