#pragma once

#include <cstdint>
#include <string_view>

namespace loftbeat::pipes {

// Random numbers that are the same in every run and on every machine (splitmix64). Private to
// pipes/.
class Seeded {
 public:
  // What is drawn depends on these alone.
  Seeded(std::string_view name, int a, int b);
  // Evenly from [0, 1).
  double unit();
  // Evenly from [-most, most).
  double within(double most) { return most * (2 * unit() - 1); }

 private:
  std::uint64_t state_;
};

}  // namespace loftbeat::pipes
