#pragma once

#include <array>
#include <vector>

#include "notate/parts.h"

namespace loftbeat::notate {

inline constexpr int kMostVoices = 4;

// One way to share out a chord: for each part the range [begin, end) of the chord's keys, highest
// first; an empty range: the part strikes nothing.
struct Share {
  struct Range {
    std::uint8_t begin = 0, end = 0;
    friend bool operator==(const Range&, const Range&) = default;
  };
  std::array<Range, kMostVoices> parts{};
  int shared = 0;  // parts that have their upper neighbour's key
  int added = 0;   // keys beyond one of a part
  friend bool operator==(const Share&, const Share&) = default;
};

// All ways for `keys` keys and `voices` parts in which no part lies above its neighbour. More than
// 8 keys are shared out in one way: the highest is the first part's, the lowest the last one's.
[[nodiscard]] std::vector<Share> all_shares(std::size_t keys, int voices);

}  // namespace loftbeat::notate
