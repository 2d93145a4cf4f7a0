#pragma once

#include <cstddef>
#include <vector>

#include "follow/onset_table.h"
#include "follow/walk.h"

namespace loftbeat::follow {

// Where the tune was heard at one onset, from the notes that the walk put there.
struct Anchor {
  int onset = 0;
  Instant at;
  int count = 0;  // notes of the chord heard
};

// Playing that goes on through the tune without a jump. Notes [first, last) of the take; those
// between that do not belong are sorted out later.
struct Stretch {
  std::size_t first = 0;
  std::size_t last = 0;
  int layer = 0;
  std::size_t id = 0;           // for those who keep more about it elsewhere
  std::vector<Anchor> anchors;  // by rising onset
  [[nodiscard]] int first_onset() const { return anchors.front().onset; }
  [[nodiscard]] int last_onset() const { return anchors.back().onset; }
};

// Cuts the way at its jumps. A short excursion outside the tune (an ornament, a few wrong notes)
// from which playing goes on where it should be by then does not cut. Every stretch has at least
// one anchor.
[[nodiscard]] std::vector<Stretch> cut_stretches(const OnsetTable& table,
                                                 const std::vector<Heard>& notes,
                                                 const std::vector<Footing>& way,
                                                 const std::vector<int>& layers);

}  // namespace loftbeat::follow
