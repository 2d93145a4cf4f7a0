#include "hearing/spectrum.h"

#include "hearing/biquad_power.h"
#include "hearing/filter_table.h"

namespace loftbeat::hearing {
namespace {

// The three numerators put together, as power: 16 (1-phi)^2 * 16 phi (1-phi) * 16 phi^2.
double numerator_power(double phi) {
  const double away = 1.0 - phi;
  return 4096.0 * phi * phi * phi * away * away * away;
}

double band_power(const tables::BandFilter& filter, double phi) {
  double denominator = 1.0;
  for (const auto& poles : filter.sections) {
    denominator *= polynomial_power(1.0, poles.a1, poles.a2, phi);
  }
  return filter.gain * filter.gain * numerator_power(phi) / denominator;
}

}  // namespace

double filter_power(std::size_t band, double hz) {
  if (hz >= kNyquistHz) return 0;
  return band_power(tables::kBandFilter[band], half_angle_power(hz));
}

BandLevels bands_of_partials(std::span<const Partial> partials) {
  std::array<double, kBandCount> power{};
  for (const Partial& partial : partials) {
    if (partial.hz >= kNyquistHz) continue;
    const double own = power_from_level(partial.level_db);
    const double phi = half_angle_power(partial.hz);
    for (std::size_t i = 0; i < kBandCount; ++i) {
      power[i] += own * band_power(tables::kBandFilter[i], phi);
    }
  }
  BandLevels levels;
  for (std::size_t i = 0; i < kBandCount; ++i) levels[i] = level_from_power(power[i]);
  return levels;
}

}  // namespace loftbeat::hearing
