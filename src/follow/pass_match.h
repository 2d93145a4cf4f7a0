#pragma once

#include <vector>

#include "follow/note_match.h"
#include "follow/passes.h"
#include "follow/texture.h"

namespace loftbeat::follow {

// A stretch with its notes settled.
struct MatchedStretch {
  Stretch stretch;
  int transpose = 0;
  std::vector<Pair> pairs;
};

struct FollowTask {
  const music::Score& score;
  const OnsetTable& table;
  const take::CleanTake& take;
  double ns_per_tick = 50'000;  // at the set tempo
};

// What may sound of a stretch, and where.
struct Wearing {
  int transpose = 0;
  std::uint64_t voices = ~std::uint64_t{0};         // bit set of the voices that may sound
  std::uint64_t octave_voices = ~std::uint64_t{0};  // those that may sound in another octave
  int tune_shift = 0;                               // 12 if the tune is played an octave up
};

// Settles the notes of one stretch. Octaves of score notes are paired too.
[[nodiscard]] MatchedStretch match_stretch(const FollowTask& task, const Stretch& stretch,
                                           const Wearing& wearing);

// Whether the stretch is the tune at all: four notes or more and a fair share of what was played
// and of what was written; else it is improvising that met the tune by chance.
[[nodiscard]] bool is_the_tune(const FollowTask& task, const MatchedStretch& matched);

// What can be said of the texture from matched stretches.
[[nodiscard]] TextureEvidence gather_evidence(const FollowTask& task,
                                              const std::vector<MatchedStretch>& stretches);

// A played note may be claimed by two stretches that meet; it stays with the one that expected
// it more closely, and with the earlier one if both did alike.
void settle_claims(std::vector<MatchedStretch*>& stretches, std::size_t taken_notes);

}  // namespace loftbeat::follow
