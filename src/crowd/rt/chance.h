#pragma once

#include <cstdint>

namespace loftbeat::crowd::rt {

// Random numbers that are the same in every run and on every machine (splitmix64). Allocates
// nothing.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  // Evenly from [0, 1), in steps of 2^-53.
  double unit() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return static_cast<double>((z ^ (z >> 31U)) >> 11U) * 0x1p-53;
  }
  // Nearly normal, mean 0, standard deviation 1, never beyond 6: twelve even numbers, whose
  // variances of 1/12 add up to 1, less their mean.
  double normal() {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += unit();
    return sum;
  }

 private:
  std::uint64_t state_;
};

}  // namespace loftbeat::crowd::rt
