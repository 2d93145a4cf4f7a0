#pragma once

#include <span>

#include "hearing/bands.h"
#include "hearing/spectrum.h"

namespace loftbeat::hearing {

// Frequency weighting A (IEC 61672-1), dB, 0 at 1 kHz. Range: hz > 0.
// Example: a_weighting_db(100) = -19.1, a_weighting_db(2512) = +1.3.
[[nodiscard]] double a_weighting_db(double hz);

// A-weighted level of a spectrum in third octaves, dB(A). Each band is weighted as at its exact
// middle, which is the usual way and off by up to about 1 dB for a lone tone at a band's edge
// below 200 Hz.
[[nodiscard]] double a_weighted_level(const BandLevels& levels);

// The K weighting of ITU-R BS.1770 (pre-filter and RLB high-pass) as the recommendation gives
// them at 48 kHz: magnitude in dB at `hz`, 0 < hz < 24000. Example: +0.69 dB at 997 Hz.
[[nodiscard]] double k_weighting_db(double hz);

// K-weighted level, LUFS, of steady partials in one channel, levels in dB re a full-scale mean
// square of 1 (a full-scale sine is -3.01 dB). Partials are taken as incoherent: right when no
// two share a frequency. Worked number: one full-scale sine of 997 Hz gives -3.01 LUFS.
// Partials at 24 kHz and above are left out. Silence gives kSilenceDb.
[[nodiscard]] double k_weighted_level(std::span<const Partial> partials);

}  // namespace loftbeat::hearing
