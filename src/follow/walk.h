#pragma once

#include <vector>

#include "follow/lattice.h"

namespace loftbeat::follow {

// Where one played note stands on the likeliest way through the tune.
struct Footing {
  int onset = -1;  // -1: outside the tune
  int layer = 0;
  bool jumped = false;  // reached by a jump, a planned link or from outside, not by going on
};

// The likeliest way of a whole take (Viterbi). Time is linear in the number of notes for a given
// tune; memory is bounded by keeping full traces of one block of notes only and walking each
// block twice where a take is too long for that.
struct WalkLimits {
  std::size_t block_notes = 0;  // notes whose traces are kept at a time; 0: as many as fit 16 MB
};
[[nodiscard]] std::vector<Footing> walk(const Lattice& lattice, const std::vector<Heard>& notes,
                                        const WalkLimits& limits = {});

}  // namespace loftbeat::follow
