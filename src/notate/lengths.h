#pragma once

#include <vector>

#include "notate/parts.h"
#include "notate/setting.h"

namespace loftbeat::notate {

// One note of a part as it will be written.
struct PartNote {
  Tick at = 0;
  Tick length = 0;  // > 0
  int pitch = 60;
  std::size_t key = 0;  // the struck key it comes from
};

// A place where a rest and a short touch are hard to tell apart.
struct RestDoubt {
  Tick at = 0;                    // onset of the notes before it
  Tick length = 0, other = 0;     // of the notes: as written, and the other reading
  std::vector<std::size_t> keys;  // that this is about
  double margin = 0;              // how much dearer the other reading is
};

struct Lengths {
  std::vector<std::vector<PartNote>> voices;
  Tick end = 0;  // of the last note
  std::vector<RestDoubt> doubts;
};

// A note lasts to the next one of its part, however it is touched, unless it is let go so early
// that a rest is likelier: reckoned with the player's own usual touch, together for all parts that
// end at one place. The last chord fills its bar with what the upbeat left of it, if that can be.
[[nodiscard]] Lengths find_lengths(const std::vector<StruckKey>& keys, const Parts& parts,
                                   const Setting& setting);

}  // namespace loftbeat::notate
