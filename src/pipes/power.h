#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "hearing/bands.h"
#include "pipes/rank.h"
#include "pipes/zones.h"

namespace loftbeat::pipes {

// What one key of a rank makes speak, in steady state: sound power in third octaves, dB re 1 pW,
// through the filters of hearing/filter_bank.h, as the SoundFont sounds (with its scatter, wind
// noise, and neighbours that share a sample, whose highest partials lose by interpolation: 0.6 dB
// at 12.5 kHz, nothing to speak of below 8 kHz). Silence for keys that the rank does not have
// (kLowestKey to kHighestKey). Worked number: a principal of 92 dB at middle C gives a total within
// its scatter (0.5 dB) of 92 dB.
[[nodiscard]] hearing::BandLevels pipe_power(const Rank& rank, int key);

// The same of all ranks, as linear power (1 = 1 pW), for sums in microseconds:
//
//   RankPowers powers(recipes);
//   for (key ...) add(sum, powers.at(rank_index, key), gain);
//
// Reading is safe from any thread. Making it takes some 0.1 s.
class RankPowers {
 public:
  using Bands = std::array<double, hearing::kBandCount>;
  explicit RankPowers(const Recipes& recipes);
  // `rank` is the index in recipes.ranks. All zero for a key or a rank that is not there.
  [[nodiscard]] const Bands& at(std::size_t rank, int key) const;
  [[nodiscard]] std::size_t ranks() const { return powers_.size() / kKeyCount; }

 private:
  std::vector<Bands> powers_;
};

}  // namespace loftbeat::pipes
