#pragma once

#include <array>
#include <cstddef>

#include "hearing/bands.h"

namespace loftbeat::hearing {

// Loudness of steady sounds by ISO 532-1:2017 (Zwicker's method for stationary sounds).

// How the sound reaches the listener. Organ and singing in a church are a diffuse field away from
// the source; the standard's own examples are free-field.
enum class SoundField { free, diffuse };

// The 20 critical bands as the method approximates them, by index. Band 0 takes the third octaves
// 25 to 80 Hz, band 1 those of 100 to 160 Hz, band 2 200 and 250 Hz, and each further band one
// third octave, 315 Hz to 12.5 kHz. So an octave of the usual series is a whole number of bands.
inline constexpr std::size_t kCriticalBandCount = 20;

// Requires third_octave < kBandCount. Example: 16 (1 kHz) -> 8.
[[nodiscard]] std::size_t critical_band_of(std::size_t third_octave);
// The band in which a frequency lies by the exact edges of its third octave; frequencies below and
// above all bands belong to the first and the last. Example: 440 Hz -> 4, the 400 Hz band.
[[nodiscard]] std::size_t critical_band_at(double hz);
// Upper limit on the critical-band-rate scale, Bark; the last band reaches to 24.
[[nodiscard]] double upper_limit_bark(std::size_t critical_band);

struct Loudness {
  static constexpr std::size_t kSteps = 240;

  double sone = 0;  // N; not rounded
  // N' in sone per Bark; specific[i] is at (i + 1) / 10 Bark.
  std::array<double, kSteps> specific{};
  // The part of N that lies in each critical band, integrated exactly: they add up to `sone`.
  std::array<double, kCriticalBandCount> band_sone{};
};

// Levels in dB re 20 uPa. Valid up to 120 dB in the bands to 250 Hz; above, the last correction of
// the standard's table is carried on. Levels that are not numbers count as silence. Takes about
// a microsecond, allocates nothing.
// Worked number: 60 dB in every band, free field, is 31.94 sone.
[[nodiscard]] Loudness loudness(const BandLevels& levels, SoundField field);

// As the standard prints it: to 0.001 up to 16 sone, to 0.01 above.
[[nodiscard]] double rounded_sone(double sone);

// Loudness level. 1 sone is 40 phon, and twice the sones are 10 phon more; below 1 sone the
// standard's curve, never under 3 phon. Example: 4 sone -> 60 phon.
[[nodiscard]] double phon_from_sone(double sone);

// The part of the loudness, in sone, in the critical bands [first, last], both included.
[[nodiscard]] double sone_between(const Loudness& of, std::size_t first, std::size_t last);

// Share, 0 to 1, of the loudness in critical bands fed by a marked third octave; 0 for silence.
// Tells how far a figure rests on bands that were extrapolated.
[[nodiscard]] double share_of_loudness(const Loudness& of, const BandMask& marked);

}  // namespace loftbeat::hearing
