#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <string_view>

namespace loftbeat::simulate {

// Chance that is the same on every machine: the engine is fixed by the language standard, and the
// distributions, which the standard leaves open, are written here.
//
// Each concern draws from a stream of its own (jitter, breaths, wrong notes ...), named by a word.
// So a fault added to a player leaves all that he does besides as it was under the same seed.
class Random {
 public:
  Random(std::uint64_t seed, std::string_view stream);

  // Evenly from [0, 1), in steps of 2^-53.
  [[nodiscard]] double uniform();
  [[nodiscard]] double between(double low, double high);
  // Evenly from 0 .. count - 1. Requires count > 0.
  [[nodiscard]] std::size_t below(std::size_t count);
  // True in `share` of all calls; always draws once.
  [[nodiscard]] bool chance(double share);
  // Normal, mean 0, cut off (drawn again) beyond three standard deviations. The standard deviation
  // that remains is 0.98658 of `sd` (worked from the normal density: 1 - 6 phi(3) / (2 Phi(3) - 1)
  // is 0.97334, and its root 0.98658).
  [[nodiscard]] double human(double sd);

 private:
  std::mt19937_64 engine_;
};

}  // namespace loftbeat::simulate
