#include "take/loops.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "take/key_book.h"

namespace loftbeat::take {
namespace {

constexpr Nanoseconds kShortestDelay = std::chrono::milliseconds(8);
constexpr Nanoseconds kLongestDelay = std::chrono::milliseconds(60);
constexpr std::size_t kFewestPairs = 8;
constexpr std::size_t kLookBack = 8;  // strokes of one key; bounds the work on hostile input

struct Pair {
  Nanoseconds on{0};   // delay of the strike
  Nanoseconds off{0};  // delay of the release
};

// By (slot copied, slot that may be the copy).
using Pairs = std::map<std::pair<std::uint16_t, std::uint16_t>, std::vector<Pair>>;

// The last few strokes of one key.
struct Recent {
  std::array<std::uint32_t, kLookBack> strokes{};
  std::size_t count = 0;
  void push(std::uint32_t stroke) { strokes[count++ % kLookBack] = stroke; }
  [[nodiscard]] std::size_t size() const { return std::min(count, kLookBack); }
  // 0 is the newest.
  [[nodiscard]] std::uint32_t back(std::size_t i) const {
    return strokes[(count - 1 - i) % kLookBack];
  }
};

// Pairs each stroke with the last stroke before it, of the same key and velocity, on each slot.
Pairs pair_off(const Strokes& strokes) {
  Pairs pairs;
  std::array<Recent, 128> recent;
  for (std::uint32_t i = 0; i < strokes.all.size(); ++i) {
    const Stroke& late = strokes.all[i];
    Recent& before = recent[late.key];
    for (std::size_t back = 0; back < before.size(); ++back) {
      const Stroke& early = strokes.all[before.back(back)];
      const Nanoseconds delay = late.on - early.on;
      if (delay > kLongestDelay) break;
      if (delay < kShortestDelay || early.velocity != late.velocity) continue;
      pairs[{early.slot, late.slot}].push_back({delay, late.off - early.off});
    }
    before.push(i);
  }
  return pairs;
}

Nanoseconds median_delay(std::vector<Pair>& pairs) {
  const auto middle = pairs.begin() + static_cast<std::ptrdiff_t>(pairs.size() / 2);
  std::nth_element(pairs.begin(), middle, pairs.end(),
                   [](const Pair& a, const Pair& b) { return a.on < b.on; });
  return middle->on;
}

bool near(Nanoseconds a, Nanoseconds b) { return (a < b ? b - a : a - b) <= kLoopSlack; }

bool is_copy(std::vector<Pair>& pairs, std::size_t copied, std::size_t copying) {
  if (pairs.size() < kFewestPairs) return false;
  const Nanoseconds delay = median_delay(pairs);
  const auto steady =
      static_cast<std::size_t>(std::count_if(pairs.begin(), pairs.end(), [&](const Pair& p) {
        return near(p.on, delay) && near(p.off, delay);
      }));
  return steady * 10 >= copied * 9 && steady * 10 >= copying * 9;
}

// On one slot a copy comes while the key is still down, so releases tell nothing: nearly half
// of all strokes must be copies with one delay.
Nanoseconds own_delay(std::vector<Pair>& pairs, std::size_t strokes) {
  if (pairs.size() < kFewestPairs) return Nanoseconds(0);
  const Nanoseconds delay = median_delay(pairs);
  const auto steady = static_cast<std::size_t>(
      std::count_if(pairs.begin(), pairs.end(), [&](const Pair& p) { return near(p.on, delay); }));
  return steady * 20 >= strokes * 9 ? delay : Nanoseconds(0);
}

}  // namespace

Loops find_loops(const Strokes& strokes) {
  Loops loops;
  loops.copies.resize(strokes.slots.size());
  loops.own_delay.resize(strokes.slots.size());
  for (auto& [slots, pairs] : pair_off(strokes)) {
    const auto [copied, copying] = slots;
    const std::size_t copied_strokes = strokes.by_slot[copied].size();
    const std::size_t copying_strokes = strokes.by_slot[copying].size();
    if (copied == copying) {
      loops.own_delay[copied] = own_delay(pairs, copied_strokes);
    } else if (is_copy(pairs, copied_strokes, copying_strokes)) {
      loops.copies[copying] = true;
    }
  }
  return loops;
}

}  // namespace loftbeat::take
