#include "take/accompaniment.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace loftbeat::take {
namespace {

constexpr std::uint8_t kDrumChannel = 9;  // "channel 10"
constexpr std::uint8_t kLowestDrum = 27;
constexpr std::uint8_t kHighestDrum = 87;
constexpr Nanoseconds kHeldLikeAnOrgan = std::chrono::milliseconds(250);
constexpr Nanoseconds kGridSlack = std::chrono::microseconds(2500);
constexpr Nanoseconds kSameStrike = std::chrono::milliseconds(5);
constexpr Nanoseconds kFinestGrid = std::chrono::milliseconds(60);
constexpr std::size_t kFewestStrikes = 24;

using Times = std::vector<std::int64_t>;  // nanoseconds

Nanoseconds median_held(const Strokes& strokes, std::size_t slot) {
  std::vector<Nanoseconds> held;
  for (const std::uint32_t i : strokes.by_slot[slot]) {
    held.push_back(strokes.all[i].off - strokes.all[i].on);
  }
  const auto middle = held.begin() + static_cast<std::ptrdiff_t>(held.size() / 2);
  std::nth_element(held.begin(), middle, held.end());
  return *middle;
}

bool are_drums(const Strokes& strokes, std::size_t slot) {
  if (strokes.slots[slot].channel != kDrumChannel || strokes.by_slot[slot].empty()) return false;
  for (const std::uint32_t i : strokes.by_slot[slot]) {
    const std::uint8_t key = strokes.all[i].key;
    if (key < kLowestDrum || key > kHighestDrum) return false;
  }
  return median_held(strokes, slot) < kHeldLikeAnOrgan;
}

Times strikes(const Strokes& strokes, std::size_t slot) {
  Times times;
  for (const std::uint32_t i : strokes.by_slot[slot]) {
    const std::int64_t at = strokes.all[i].on.time_since_epoch().count();
    if (times.empty() || at - times.back() > kSameStrike.count()) times.push_back(at);
  }
  return times;
}

// A machine's grid: strikes fall at `anchor` plus whole multiples of `step`.
struct Grid {
  double anchor = 0;
  double step = 0;  // nanoseconds; 0 = no grid

  // Follows the strikes from one to the next, so that a rounded step does not add up.
  [[nodiscard]] bool holds(const Times& times) const {
    if (times.size() < kFewestStrikes) return false;
    double line = anchor;
    std::size_t off = 0;
    for (const std::int64_t time : times) {
      const double at = static_cast<double>(time);
      const double expected = line + std::round((at - line) / step) * step;
      const bool on_grid = std::abs(at - expected) <= static_cast<double>(kGridSlack.count());
      if (on_grid) line = at;
      if (!on_grid) ++off;
    }
    return off * 20 <= times.size();
  }
};

// The step is the shortest common gap, made exact over all gaps that are multiples of it.
Grid grid_of(const Times& times) {
  if (times.size() < kFewestStrikes) return {};
  Times gaps;
  for (std::size_t i = 1; i < times.size(); ++i) gaps.push_back(times[i] - times[i - 1]);
  Times sorted = gaps;
  const auto low = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 10);
  std::nth_element(sorted.begin(), low, sorted.end());
  if (*low < kFinestGrid.count()) return {};
  const double guess = static_cast<double>(*low);
  double time = 0;
  double steps = 0;
  for (const std::int64_t gap : gaps) {
    const double count = std::round(static_cast<double>(gap) / guess);
    if (count < 1 || count > 4) continue;
    time += static_cast<double>(gap);
    steps += count;
  }
  return {static_cast<double>(times.front()), steps > 0 ? time / steps : 0};
}

// Machine slots that share the drums' grid, if at least one slot does not.
void add_grid_players(const Strokes& strokes, const Grid& grid, std::vector<bool>& machine,
                      const std::vector<bool>& left_out) {
  std::vector<std::size_t> on_grid;
  bool someone_plays = false;
  for (std::size_t slot = 0; slot < strokes.by_slot.size(); ++slot) {
    if (machine[slot] || left_out[slot] || strokes.by_slot[slot].empty()) continue;
    if (grid.holds(strikes(strokes, slot))) {
      on_grid.push_back(slot);
    } else {
      someone_plays = true;
    }
  }
  if (!someone_plays) return;
  for (const std::size_t slot : on_grid) machine[slot] = true;
}

}  // namespace

std::vector<bool> find_accompaniment(const Strokes& strokes, const std::vector<bool>& left_out) {
  std::vector<bool> machine(strokes.by_slot.size(), false);
  bool others = false;
  std::vector<std::size_t> drums;
  for (std::size_t slot = 0; slot < machine.size(); ++slot) {
    if (left_out[slot] || strokes.by_slot[slot].empty()) continue;
    if (are_drums(strokes, slot)) {
      drums.push_back(slot);
    } else {
      others = true;
    }
  }
  if (!others) return machine;
  for (const std::size_t slot : drums) machine[slot] = true;
  for (const std::size_t slot : drums) {
    const Times times = strikes(strokes, slot);
    const Grid grid = grid_of(times);
    if (grid.step > 0 && grid.holds(times)) add_grid_players(strokes, grid, machine, left_out);
  }
  return machine;
}

}  // namespace loftbeat::take
