#pragma once

#include <vector>

#include "hearing/spectrum.h"
#include "pipes/tone.h"

namespace loftbeat::pipes {

// Private to pipes/. The noise of the wind lies between the pitch and this.
inline constexpr double kNoiseTopHz = 16000;

// Power a hertz of the wind's noise, to a common factor; 0 outside [from_hz, kNoiseTopHz].
[[nodiscard]] double noise_density(const Wind& wind, double from_hz, double hz);

// The noise as many partials (24 an octave) with a total of `power` (1 = 1 pW), for reckoning.
[[nodiscard]] std::vector<hearing::Partial> noise_partials(const Wind& wind, double from_hz,
                                                           double power);

}  // namespace loftbeat::pipes
