#pragma once

#include "follow/alignment.h"
#include "music/score.h"
#include "plan/route.h"
#include "simulate/truth.h"
#include "take/take.h"

namespace loftbeat::simulate {

struct TruthQuestion {
  const music::Score& score;
  const plan::Route& route;
  const Truth& truth;
  const take::CleanTake& take;  // take::clean of the performance's own take
};

// The alignment that a follower without fault would find, so that timing can be tried apart from
// following. Each CleanTake note is the true note of the same key whose stamp is nearest, at most
// 30 ms away; keys that the clean take lacks (merged unisons) count as held. Interludes are no
// passes here: their notes are `extra` outside every pass.
[[nodiscard]] follow::Alignment truth_alignment(const TruthQuestion& question);

}  // namespace loftbeat::simulate
