#include "timing/settling.h"

#include <algorithm>
#include <cmath>

#include "timing/tolerances.h"

namespace loftbeat::timing {

Measured<double> settling_beats(const FittedPass& pass) {
  const Pulse& pulse = pass.pulse;
  if (!pulse.known) return Measured<double>::unknown("too few struck beats");
  const auto settled = [&](const PulseBeat& b) {
    const double tolerance =
        std::max(kShiftPlainPercent / 100 * b.period_s, kCoverage * pulse.jitter_s);
    return std::abs(b.t - b.pulse_t) <= tolerance;
  };
  for (std::size_t i = 0; i + 1 < pulse.beats.size(); ++i)
    if (settled(pulse.beats[i]) && settled(pulse.beats[i + 1]))
      return pulse.beats[i].x - pulse.beats.front().x;
  return Measured<double>::unknown("the pass never settles");
}

}  // namespace loftbeat::timing
