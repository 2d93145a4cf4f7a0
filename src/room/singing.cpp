#include "room/singing.h"

#include <cmath>
#include <numbers>

namespace loftbeat::room {
namespace {

constexpr std::size_t kFirstPublished = 8;  // 160 Hz
constexpr std::size_t kPublishedBands = 18;
constexpr std::size_t kLastPublished = kFirstPublished + kPublishedBands - 1;  // 8 kHz
constexpr std::size_t kBandsPerOctave = 3;

// ANSI S3.5-1997, table 3: spectrum level with the bandwidth adjustment added, as two open
// copies agree (loud, 400 Hz: 62.95 in one, 63.05 in the other).
constexpr std::array<std::array<double, kPublishedBands>, 4> kPublished = {{
    {48.06, 51.13, 52.40, 52.63, 54.24, 54.92, 53.71, 50.95, 48.66, 47.65, 45.80, 43.97, 40.83,
     40.20, 38.98, 35.96, 34.24, 33.78},
    {49.46, 50.57, 56.63, 57.22, 58.76, 60.80, 60.43, 59.02, 57.51, 56.54, 54.23, 51.97, 50.00,
     48.80, 46.43, 42.12, 39.32, 37.72},
    {50.94, 54.41, 59.20, 62.43, 62.95, 65.50, 67.20, 66.70, 65.81, 65.18, 63.35, 61.04, 58.63,
     56.86, 55.06, 49.00, 45.52, 44.04},
    {46.42, 53.30, 60.15, 65.16, 67.05, 69.89, 72.86, 74.09, 74.96, 74.28, 73.30, 70.97, 68.45,
     66.78, 64.06, 58.89, 55.10, 53.37},
}};

BandLevels continued(const std::array<double, kPublishedBands>& published) {
  BandLevels levels;
  for (std::size_t i = 0; i < kPublishedBands; ++i) levels[kFirstPublished + i] = published[i];
  const double low_slope = (published[kBandsPerOctave] - published[0]) / kBandsPerOctave;
  for (std::size_t i = kFirstPublished; i-- > 0;) levels[i] = levels[i + 1] - low_slope;
  const double high_slope =
      (published.back() - published[kPublishedBands - 1 - kBandsPerOctave]) / kBandsPerOctave;
  for (std::size_t i = kLastPublished + 1; i < kBandCount; ++i) {
    levels[i] = levels[i - 1] + high_slope;
  }
  return levels;
}

}  // namespace

const BandLevels& voice_at_1_m(Effort effort) {
  static const std::array<BandLevels, 4> levels = {
      continued(kPublished[0]), continued(kPublished[1]), continued(kPublished[2]),
      continued(kPublished[3])};
  return levels[static_cast<std::size_t>(effort)];
}

BandMask extrapolated_voice() {
  BandMask mask;
  for (std::size_t i = 0; i < kBandCount; ++i) mask[i] = i < kFirstPublished || i > kLastPublished;
  return mask;
}

BandLevels singing_power(Effort effort, int singers, double voice_directivity_db) {
  if (singers <= 0) return hearing::silence();
  // A point source that is alike in all directions gives 4 pi times its intensity at 1 m.
  const double sphere_db = 10.0 * std::log10(4.0 * std::numbers::pi);
  return hearing::raised(voice_at_1_m(effort),
                         sphere_db - voice_directivity_db + 10.0 * std::log10(singers));
}

}  // namespace loftbeat::room
