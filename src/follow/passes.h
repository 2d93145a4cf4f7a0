#pragma once

#include <vector>

#include "follow/alignment.h"
#include "follow/stretch.h"

namespace loftbeat::follow {

// One time through the tune as found: the stretches that make it up, in time.
struct FoundPass {
  std::vector<Stretch> stretches;
  std::vector<std::size_t> false_starts;  // stretches that were broken off and begun again
  int run = 1;
  Tick begin = 0;     // first score time played
  Tick furthest = 0;  // last onset reached
  Tick covered = 0;   // ticks gone through, false starts apart
};

struct PassRules {
  const music::Score& score;
  const plan::Route& route;
  const OnsetTable& table;
  Nanoseconds closes_run{0};  // silence of that length closes the run
};

// Puts stretches together. Going back to the start after half the tune begins a new pass; before
// half it is a false start of the same pass, unless the stretch was a play-over of some phrases.
// Going back elsewhere is a restart, going on elsewhere leaves something out: the same pass.
[[nodiscard]] std::vector<FoundPass> group_passes(const PassRules& rules,
                                                  const take::CleanTake& take,
                                                  std::vector<Stretch> stretches);

}  // namespace loftbeat::follow
