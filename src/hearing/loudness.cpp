#include "hearing/loudness.h"

#include <algorithm>
#include <cmath>

#include "hearing/core_loudness.h"
#include "hearing/loudness_tables.h"

namespace loftbeat::hearing {
namespace {

using tables::kSlopeRow;

// The published program adds this to every limit, so that samples at whole tenths of a Bark fall
// into the right band in spite of rounding.
constexpr double kLimitMargin = 0.0001;

// Walks up the critical-band rate, through one band after the other: up at once to a louder
// band's core loudness, down along the slopes of the table when the band is softer.
class SlopeWalk {
 public:
  explicit SlopeWalk(Loudness& into) : into_(into) {}

  void through(std::size_t band, double core, double limit) {
    while (z_ < limit) {
      if (height_ <= core) {
        rise(core);
        segment(limit, core, 0.0, band);
      } else {
        fall(band, core, limit);
      }
      while (height_ <= kSlopeRow[row_].lower_limit && row_ + 1 < kSlopeRow.size()) ++row_;
    }
  }

 private:
  void rise(double core) {
    if (height_ < core) {
      row_ = 0;
      while (kSlopeRow[row_].lower_limit > core) ++row_;
    }
    height_ = core;
  }

  void fall(std::size_t band, double core, double limit) {
    // The lowest band never falls (the walk begins at nothing), hence band >= 1 here.
    const std::size_t column = std::min(band - 1, tables::kSlopeColumns - 1);
    const double steepness = kSlopeRow[row_].steepness[column];
    const double floor = std::max(kSlopeRow[row_].lower_limit, core);
    const double end = z_ + (height_ - floor) / steepness;
    if (end > limit) {
      segment(limit, height_ - (limit - z_) * steepness, steepness, band);
    } else {
      segment(end, floor, steepness, band);
    }
  }

  // A straight piece from where the walk stands to (end, end_height).
  void segment(double end, double end_height, double steepness, std::size_t band) {
    const double sone = (end - z_) * (height_ + end_height) / 2.0;
    into_.sone += sone;
    into_.band_sone[std::min(band, kCriticalBandCount - 1)] += sone;
    while (next_ < Loudness::kSteps && sample_bark() <= end) {
      into_.specific[next_] = height_ - (sample_bark() - z_) * steepness;
      ++next_;
    }
    z_ = end;
    height_ = end_height;
  }

  [[nodiscard]] double sample_bark() const { return static_cast<double>(next_ + 1) / 10.0; }

  Loudness& into_;
  double z_ = 0;       // Bark
  double height_ = 0;  // sone per Bark
  std::size_t row_ = kSlopeRow.size() - 1;
  std::size_t next_ = 0;  // sample to fill next
};

}  // namespace

std::size_t critical_band_of(std::size_t third_octave) {
  if (third_octave < 6) return 0;
  if (third_octave < 9) return 1;
  if (third_octave < 11) return 2;
  return third_octave - 8;
}

std::size_t critical_band_at(double hz) {
  std::size_t band = 0;
  while (band + 1 < kBandCount && hz >= upper_edge_hz(band)) ++band;
  return critical_band_of(band);
}

double upper_limit_bark(std::size_t critical_band) {
  return critical_band + 1 < kCriticalBandCount
             ? tables::kCriticalBand[critical_band].upper_limit_bark
             : tables::kTopBark;
}

Loudness loudness(const BandLevels& levels, SoundField field) {
  const CoreLoudness core = core_loudness(levels, field);
  Loudness result;
  SlopeWalk walk(result);
  for (std::size_t i = 0; i < kCriticalBandCount; ++i) {
    walk.through(i, core[i], tables::kCriticalBand[i].upper_limit_bark + kLimitMargin);
  }
  // Above the last band only its slope is left.
  walk.through(kCriticalBandCount, 0.0, tables::kTopBark + kLimitMargin);
  return result;
}

double rounded_sone(double sone) {
  const double steps = sone > 16.0 ? 100.0 : 1000.0;
  return std::floor(sone * steps + 0.5) / steps;
}

double phon_from_sone(double sone) {
  if (sone >= 1.0) return 40.0 + 10.0 * std::log2(sone);
  return std::max(3.0, 40.0 * std::pow(sone + 0.0005, 0.35));
}

double sone_between(const Loudness& of, std::size_t first, std::size_t last) {
  double sum = 0;
  for (std::size_t i = first; i <= last && i < kCriticalBandCount; ++i) sum += of.band_sone[i];
  return sum;
}

double share_of_loudness(const Loudness& of, const BandMask& marked) {
  std::bitset<kCriticalBandCount> critical;
  for (std::size_t i = 0; i < kBandCount; ++i) {
    if (marked[i]) critical.set(critical_band_of(i));
  }
  double part = 0;
  for (std::size_t i = 0; i < kCriticalBandCount; ++i) {
    if (critical[i]) part += of.band_sone[i];
  }
  return of.sone > 0 ? part / of.sone : 0;
}

}  // namespace loftbeat::hearing
