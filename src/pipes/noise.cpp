#include "pipes/noise.h"

#include <cmath>

#include "hearing/bands.h"

namespace loftbeat::pipes {

double noise_density(const Wind& wind, double from_hz, double hz) {
  if (hz < from_hz || hz > kNoiseTopHz) return 0;
  const double above = wind.corner_hz / hz;
  return (above < 1 ? above * above : 1) / hz;
}

std::vector<hearing::Partial> noise_partials(const Wind& wind, double from_hz, double power) {
  constexpr double kStepsPerOctave = 24;
  const double step = std::exp2(1 / kStepsPerOctave);
  std::vector<hearing::Partial> partials;
  double sum = 0;
  for (double hz = from_hz * std::sqrt(step); hz < kNoiseTopHz; hz *= step) {
    const double own = noise_density(wind, from_hz, hz) * hz;
    partials.push_back({hz, own});
    sum += own;
  }
  for (hearing::Partial& partial : partials)
    partial.level_db = hearing::level_from_power(power * partial.level_db / sum);
  return partials;
}

}  // namespace loftbeat::pipes
