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
};

// Settles the texture of a found pass, its notes under that texture, its struck onsets, restarts
// and what it left out. `matched` holds each stretch as first matched, by Stretch::id.
[[nodiscard]] BuiltPass build_pass(const FollowTask& task, const plan::Route& route,
                                   const FoundPass& found, const Label& label,
                                   const std::vector<MatchedStretch>& matched,
                                   const std::vector<int>& layers);

// Fills onsets, first and last onset, releases and coverage from the pairs that stand.
void fill_times(const FollowTask& task, BuiltPass& built);

}  // namespace loftbeat::follow
