#include "hearing/weighting.h"

#include <cmath>

#include "hearing/biquad_power.h"

namespace loftbeat::hearing {
namespace {

// Pole frequencies of the A weighting, Hz (IEC 61672-1).
constexpr double kF1 = 20.599;
constexpr double kF2 = 107.65;
constexpr double kF3 = 737.86;
constexpr double kF4 = 12194.2;
// The offset that makes 1 kHz come out at 0 dB.
constexpr double kA1000Db = -2.000;

constexpr Biquad kPreFilter = {1.53512485958697, -2.69169618940638, 1.19839281085285,
                               -1.69065929318241, 0.73248077421585};
constexpr Biquad kRlb = {1.0, -2.0, 1.0, -1.99004745483398, 0.99007225036621};
constexpr double kBs1770OffsetDb = -0.691;

}  // namespace

double a_weighting_db(double hz) {
  const double f2 = hz * hz;
  const double response =
      kF4 * kF4 * f2 * f2 /
      ((f2 + kF1 * kF1) * std::sqrt((f2 + kF2 * kF2) * (f2 + kF3 * kF3)) * (f2 + kF4 * kF4));
  return 20.0 * std::log10(response) - kA1000Db;
}

double a_weighted_level(const BandLevels& levels) {
  BandLevels weighted = levels;
  for (std::size_t i = 0; i < kBandCount; ++i) weighted[i] += a_weighting_db(mid_hz(i));
  return total_level(weighted);
}

double k_weighting_db(double hz) {
  const double phi = half_angle_power(hz);
  return level_from_power(power_gain(kPreFilter, phi) * power_gain(kRlb, phi));
}

double k_weighted_level(std::span<const Partial> partials) {
  double power = 0;
  for (const Partial& partial : partials) {
    if (partial.hz >= kNyquistHz) continue;
    power += power_from_level(partial.level_db + k_weighting_db(partial.hz));
  }
  return power > 0 ? kBs1770OffsetDb + level_from_power(power) : kSilenceDb;
}

}  // namespace loftbeat::hearing
