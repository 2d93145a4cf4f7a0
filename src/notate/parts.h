#pragma once

#include <vector>

#include "notate/struck_key.h"

namespace loftbeat::notate {

// Keys of one place, highest first.
struct StruckChord {
  Tick at = 0;
  std::vector<std::size_t> keys;  // into the struck keys
};

// The chords of struck keys, by place. Keys of one place and pitch are both in it.
[[nodiscard]] std::vector<StruckChord> chords_of(const std::vector<StruckKey>& keys);

// What one part strikes at one place: one key, seldom more.
struct PartStroke {
  Tick at = 0;
  std::vector<std::size_t> keys;
};

struct Parts {
  std::vector<std::vector<PartStroke>> voices;  // 0 = the topmost
  // For each chord, how much dearer the best other way to share it out would have been (the rest
  // as it is); large where there is none.
  std::vector<double> margins;
  std::vector<std::vector<int>> voice_of_other;  // by chord: that way, the part of each of its keys
};

// Shares the keys out to at most `voices` parts (1 to 4) by the costs of part_costs.h: a search
// along the chords that keeps a limited number of ways. A part that strikes nothing goes on holding
// what it has. Two parts may share a key. What keys say of their voice is obeyed. Linear in the
// number of chords.
[[nodiscard]] Parts share_out(const std::vector<StruckKey>& keys,
                              const std::vector<StruckChord>& chords, int voices);

// How many parts the keys ask for: the most that are struck together or held under others at one
// place in eight, at most `most`, at least 1.
[[nodiscard]] int voices_needed(const std::vector<StruckKey>& keys,
                                const std::vector<StruckChord>& chords, int most);

}  // namespace loftbeat::notate
