#pragma once

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// Beats from a pass's first struck beat to the first of two in a row that lie within 5 % of a beat
// (or twice the jitter, if that is more) of its pulse. 0 = in its pulse at once.
// Worked number: pulse 1 s; the first two beats lie 0.2 s and 0.1 s behind, the others on it: 2.
[[nodiscard]] Measured<double> settling_beats(const FittedPass& pass);

}  // namespace loftbeat::timing
