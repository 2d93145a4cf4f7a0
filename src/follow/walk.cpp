#include "follow/walk.h"

#include <algorithm>

namespace loftbeat::follow {
namespace {

constexpr std::size_t kTraceBytes = 16u << 20;  // for the codes of one block

// The traces of one block of notes, and the columns between which it is walked.
class Block {
 public:
  Block(const Lattice& lattice, std::size_t notes)
      : lattice_(lattice), codes_(notes * lattice.states()), jumps_(notes) {}

  [[nodiscard]] Trace trace(std::size_t i) {
    const std::size_t states = lattice_.states();
    return {std::span(codes_.data() + i * states, states), jumps_[i]};
  }

  // Walks notes [first, last) from `column` (ignored for the first note of all) and leaves the
  // last column in it.
  void walk(const std::vector<Heard>& notes, std::size_t first, std::size_t last, Column& column) {
    Column next;
    for (std::size_t n = first; n < last; ++n) {
      Trace t = trace(n - first);
      if (n == 0) {
        lattice_.begin(notes[n], next, t);
      } else {
        lattice_.step(column, notes[n], next, t);
      }
      jumps_[n - first] = t.jump_from;
      std::swap(column, next);
    }
  }

 private:
  const Lattice& lattice_;
  std::vector<std::uint8_t> codes_;
  std::vector<std::uint32_t> jumps_;
};

Footing footing(const Lattice& lattice, std::uint32_t state, std::uint8_t code) {
  if (state == lattice.outside()) return {};
  const bool jumped =
      code == step_code::kJump || code == step_code::kFromOutside || code >= step_code::kLink;
  return {lattice.onset_of(state), lattice.layer_of(state), jumped};
}

}  // namespace

std::vector<Footing> walk(const Lattice& lattice, const std::vector<Heard>& notes,
                          const WalkLimits& limits) {
  std::vector<Footing> way(notes.size());
  if (notes.empty()) return way;
  const std::size_t fitting = std::max<std::size_t>(256, kTraceBytes / lattice.states());
  const std::size_t length =
      std::min(notes.size(), limits.block_notes > 0 ? limits.block_notes : fitting);
  Block block(lattice, length);

  // Forward once, keeping the column before each block.
  std::vector<Column> before;
  Column column;
  for (std::size_t first = 0; first < notes.size(); first += length) {
    before.push_back(column);
    block.walk(notes, first, std::min(notes.size(), first + length), column);
  }

  // Backward, block by block; the last block's traces still stand.
  std::uint32_t state = column.best;
  for (std::size_t b = before.size(); b-- > 0;) {
    const std::size_t first = b * length;
    const std::size_t last = std::min(notes.size(), first + length);
    if (b + 1 < before.size()) {
      Column again = before[b];
      block.walk(notes, first, last, again);
    }
    for (std::size_t n = last; n-- > first;) {
      const Trace trace = block.trace(n - first);
      way[n] = footing(lattice, state, trace.codes[state]);
      if (n > 0) state = lattice.before(state, trace);
    }
  }
  return way;
}

}  // namespace loftbeat::follow
