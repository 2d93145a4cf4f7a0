#include "hearing/core_loudness.h"

#include <algorithm>
#include <cmath>

#include "hearing/loudness_tables.h"

namespace loftbeat::hearing {
namespace {

using tables::kCriticalBand;
using tables::kLevelRange;
using tables::kLowBands;

// Equal-loudness correction of one band below 300 Hz. Above the seventh range the eighth holds,
// also beyond 120 dB.
double corrected_low_level(double level, std::size_t band) {
  for (const tables::LevelRange& range : kLevelRange) {
    const double correction = range.correction_db[band];
    if (level <= range.upper_db - correction) return level + correction;
  }
  return level + kLevelRange.back().correction_db[band];
}

// A power sum of nothing counts as 0 dB, which is below every threshold.
double level_or_zero(double power) { return power > 0 ? level_from_power(power) : 0.0; }

// 0.0635 * 10^(0.025 threshold) of each band, worked out once.
const std::array<double, kCriticalBandCount>& scales() {
  static const auto table = [] {
    std::array<double, kCriticalBandCount> built{};
    for (std::size_t i = 0; i < built.size(); ++i) {
      built[i] = 0.0635 * std::pow(10.0, 0.025 * kCriticalBand[i].threshold_db);
    }
    return built;
  }();
  return table;
}

double fourth_root(double x) { return std::sqrt(std::sqrt(x)); }

// Threshold and bandwidth go in here; below the threshold in quiet there is no loudness.
double core(double excitation_db, std::size_t index) {
  const tables::CriticalBand& band = kCriticalBand[index];
  if (!(excitation_db > band.threshold_db)) return 0;
  const double above = power_from_level(excitation_db - band.bandwidth_db - band.threshold_db);
  return std::max(0.0, scales()[index] * (fourth_root(0.75 + 0.25 * above) - 1.0));
}

}  // namespace

std::array<double, kCriticalBandCount> excitation_levels(const BandLevels& levels,
                                                         SoundField field) {
  std::array<double, 3> low_power{};
  for (std::size_t i = 0; i < kLowBands; ++i) {
    low_power[critical_band_of(i)] += power_from_level(corrected_low_level(levels[i], i));
  }
  std::array<double, kCriticalBandCount> excitation;
  for (std::size_t i = 0; i < kCriticalBandCount; ++i) {
    const double level = i < low_power.size() ? level_or_zero(low_power[i])
                                              : levels[kLowBands + i - low_power.size()];
    excitation[i] = level - kCriticalBand[i].transmission_db;
    if (field == SoundField::diffuse) excitation[i] += kCriticalBand[i].diffuse_db;
  }
  return excitation;
}

CoreLoudness core_loudness(const BandLevels& levels, SoundField field) {
  const auto excitation = excitation_levels(levels, field);
  CoreLoudness result;
  for (std::size_t i = 0; i < kCriticalBandCount; ++i) {
    result[i] = core(excitation[i], i);
  }
  // The lowest band is narrower in hearing than on paper.
  result[0] *= std::min(1.0, 0.4 + 0.32 * std::pow(result[0], 0.2));
  return result;
}

}  // namespace loftbeat::hearing
