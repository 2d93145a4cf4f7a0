#pragma once

#include <vector>

#include "follow/alignment.h"
#include "follow/labels.h"
#include "follow/pass_match.h"

namespace loftbeat::follow {

// A pass on its way to the Alignment: what it says, and the pairs it rests on.
struct BuiltPass {
  AlignedPass pass;
  std::vector<MatchedStretch> stretches;  // pairs that stand; replayed ones are gone
  std::vector<Pair> repeated;             // earlier playings of what the route has twice
};

// Settles the texture of a found pass and its notes under that texture. `matched` holds each
// stretch as first matched, by Stretch::id.
[[nodiscard]] BuiltPass dress_pass(const FollowTask& task, const FoundPass& found,
                                   const Label& label, const std::vector<MatchedStretch>& matched,
                                   const std::vector<int>& layers);

// After all claims are settled: restarts and what was left out, which notes the pass spans, its
// struck onsets (replayed places keep the last time), its coverage.
void finish_pass(const FollowTask& task, const plan::Route& route, const FoundPass& found,
                 BuiltPass& built);

}  // namespace loftbeat::follow
