#pragma once

#include <span>

#include "hearing/bands.h"

namespace loftbeat::hearing {

// One steady partial of a sound. The level is that of its mean square (a sine of 1 Pa amplitude
// is 91.0 dB re 20 uPa).
struct Partial {
  double hz = 0;
  double level_db = kSilenceDb;
};

// What the third-octave filter of `band` lets through of a tone, as a power ratio: 1 at the
// middle, about 0.5 at the edges, 0 from 24 kHz up. Range: hz >= 0.
//
// The filters are the very ones of ISO 532-1 (48 kHz, three sections a band) and not the ideal
// bands of IEC 61260: a pure tone leaks into its neighbours, and the standard's loudness of a
// tone counts on it. Worked number: 1 kHz at 60 dB is 4.02 sone with the leakage and 3.49 sone
// without. It also makes a computed spectrum and an analysed recording comparable.
[[nodiscard]] double filter_power(std::size_t band, double hz);

// Levels in third octaves of a line spectrum, partials taken as incoherent. About 1 us a partial.
[[nodiscard]] BandLevels bands_of_partials(std::span<const Partial> partials);

}  // namespace loftbeat::hearing
