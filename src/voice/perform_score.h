#pragma once

#include <string>
#include <vector>

#include "music/score.h"
#include "organ/organ.h"
#include "plan/plan.h"
#include "plan/route.h"
#include "voice/performance.h"

namespace loftbeat::voice {

// What is to be played of a plan.
struct ScoreOrder {
  const plan::Plan* plan = nullptr;  // none of these may be null
  const music::Score* score = nullptr;
  const plan::Route* route = nullptr;
  const organ::Organ* organ = nullptr;
  std::vector<organ::Registration> registrations;  // one for each pass of the route
  double tempo_bpm = 0;                            // beats a minute in the plan's beat, > 0
};

// The passes of the route one after the other, as a model player would play them:
// - Notes last as written and follow each other without gap; a key that is struck again is let go
//   70 ms before, or a third of its note if that is less (common practice, no source).
// - At a phrase end inside a pass all voices lift a quarter of a beat early, or a third of the
//   note if that is less; the beat goes on.
// - A planned join is kept: hold, then lift. By the bar the last chord lasts as written and lifts
//   half a beat before the next pass at the latest. Without a plan the bars run on.
// - Stops of the next pass move in the middle of the lift.
// - An unaccompanied pass is silent for as long as it would last; an interlude for its beats (two
//   if it has none); so is the Amen, which is not in the score.
// Marks: the start of each bar of each pass.
[[nodiscard]] Performance perform(const ScoreOrder& order);

}  // namespace loftbeat::voice
