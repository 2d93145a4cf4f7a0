#include "take/stamps.h"

#include <algorithm>
#include <bitset>
#include <vector>

namespace loftbeat::take {
namespace {

constexpr std::int64_t kFinestStep = 100'000;  // ns
constexpr std::int64_t kShortestStep = 1'000'000;
constexpr std::int64_t kLongestStep = 20'000'000;
constexpr std::int64_t kStepWidth = 250'000;
constexpr std::int64_t kMostMultiples = 40;
constexpr std::size_t kFewestGaps = 50;
constexpr std::size_t kFewestMultiples = 10;
constexpr std::size_t kMostGaps = 4000;  // enough to be sure, few enough to be quick

std::vector<std::int64_t> gaps_of(const Take& take) {
  std::vector<std::int64_t> gaps;
  for (std::size_t i = 1; i < take.events.size() && gaps.size() < kMostGaps; ++i) {
    const std::int64_t gap = (take.events[i].at - take.events[i - 1].at).count();
    if (gap > 0 && gap <= kLongestStep * kMostMultiples) gaps.push_back(gap);
  }
  return gaps;
}

bool is_lattice(const std::vector<std::int64_t>& gaps, std::int64_t step) {
  std::bitset<kMostMultiples + 1> multiples;
  std::size_t looked_at = 0;
  std::size_t near = 0;
  for (const std::int64_t gap : gaps) {
    const std::int64_t count = (gap + step / 2) / step;
    if (count > kMostMultiples) continue;
    ++looked_at;
    const std::int64_t off = gap - count * step;
    if (std::max(off, -off) * 10 > step) continue;
    ++near;
    if (count > 0) multiples.set(static_cast<std::size_t>(count));
  }
  return looked_at >= kFewestGaps && near * 10 >= looked_at * 9 &&
         multiples.count() >= kFewestMultiples;
}

std::int64_t delivery_step(const Take& take) {
  const std::vector<std::int64_t> gaps = gaps_of(take);
  for (std::int64_t step = kLongestStep; step >= kShortestStep; step -= kStepWidth) {
    if (is_lattice(gaps, step)) return step;
  }
  return 0;
}

}  // namespace

Nanoseconds stamp_uncertainty(const Take& take) {
  const std::int64_t step = std::max<std::int64_t>(take.stamp_step.count(), delivery_step(take));
  return step < kFinestStep ? Nanoseconds(0) : Nanoseconds(step / 2);
}

}  // namespace loftbeat::take
