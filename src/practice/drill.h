#pragma once

#include <string>

#include "base/result.h"
#include "music/score.h"
#include "plan/plan.h"

namespace loftbeat::practice {

// A part of a plan as a plan of its own, so that it can be played again and again and is followed,
// clicked and judged like any other.
struct Drill {
  plan::Plan plan;
  std::string words;  // what is what in it, for the player; empty if nothing needs saying
};

// The play-over and the first line of verse 1 (all of verse 1 where the tune has no lines).
// Errors name the plan: it has no play-over.
[[nodiscard]] Result<Drill> play_over_drill(const plan::Plan& plan, const music::Score& score);

// The last line of verse `verse`, the join after it and the first line of the next verse. They are
// verses 1 and 2 of the drill. Worked example: verse 2 of a tune of four lines: the drill's verse 1
// is line 4, its verse 2 line 1, with the stops of verses 2 and 3.
// Errors: no such join (with those there are), a verse beside it that is sung alone, a tune without
// lines.
[[nodiscard]] Result<Drill> join_drill(const plan::Plan& plan, const music::Score& score,
                                       int verse);

}  // namespace loftbeat::practice
