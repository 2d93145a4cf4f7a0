#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "hearing/bands.h"

namespace loftbeat::hearing {

// The only rate for which ISO 532-1 gives its filters.
inline constexpr double kSampleRateHz = 48000;

// How long the filters ring after a sound is switched on; what comes out before is left out of
// steady measurements. (With it the standard's 250 Hz tone is 14.667 sone, without 14.655.)
inline constexpr std::size_t kSettlingSamples = 9600;  // 0.2 s

// Third-octave analysis of samples at 48 kHz, in pascal. Feed blocks of any length in order;
// `take_levels` gives the levels of the mean square since the last call and starts afresh, the
// filters running on. Not thread-safe; allocates nothing.
//
//   FilterBank bank;
//   bank.skip(first_0_2_s);
//   bank.feed(the_rest);
//   const BandLevels levels = bank.take_levels();
class FilterBank {
 public:
  void feed(std::span<const float> pascals);
  // Runs the filters without counting what comes out.
  void skip(std::span<const float> pascals);
  // Silence if nothing was fed.
  [[nodiscard]] BandLevels take_levels();

 private:
  struct Section {
    double s1 = 0;
    double s2 = 0;
  };
  struct Band {
    std::array<Section, 3> sections;
    double square_sum = 0;
  };
  void run(std::span<const float> pascals);

  std::array<Band, kBandCount> bands_;
  std::size_t fed_ = 0;
};

// The spectrum of a steady recording at 48 kHz in pascal, its first 0.2 s left out. Silence for
// recordings that are no longer than that.
[[nodiscard]] BandLevels bands_of_samples(std::span<const float> pascals);

}  // namespace loftbeat::hearing
