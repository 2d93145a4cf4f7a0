#pragma once

#include <vector>

namespace loftbeat::pipes {

// Keys of a rank. 36 to 96 are a manual's compass (8' C = 36); those beyond are there so that other
// keyboards, and stops that borrow a rank an octave off, are not mute.
inline constexpr int kLowestKey = 24;
inline constexpr int kHighestKey = 108;
inline constexpr int kKeyCount = kHighestKey - kLowestKey + 1;
[[nodiscard]] constexpr bool has_key(int key) { return key >= kLowestKey && key <= kHighestKey; }

// Keys that share a sample: three in the compass, six beyond it. The sample is made for `root` and
// played there as it is; it never crosses a C, where mixtures break.
struct Zone {
  int lowest = 0;
  int highest = 0;
  int root = 0;
};
[[nodiscard]] const std::vector<Zone>& zones();
// Requires has_key(key).
[[nodiscard]] const Zone& zone_of(int key);

}  // namespace loftbeat::pipes
