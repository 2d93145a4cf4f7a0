#pragma once

#include <vector>

#include "follow/lattice.h"
#include "follow/stretch.h"

namespace loftbeat::follow {

// Mends what the walk took for jumps and no player does. Stretches stay in order of time.

// A few onsets heard elsewhere in the tune, after which playing goes on where it would be by then:
// nobody leaps away for two chords and comes back in time. In free harmony over a thin tune such
// chords may look like others. The stretches before and after become one, and what was heard
// between is theirs to sort out.
// Example at 60 a minute: quarters 0 to 4, then two chords as quarters 56 and 57, then quarter 8
// on, 4.1 s after quarter 4: one stretch from quarter 0 on.
void iron_out_detours(const OnsetTable& table, std::vector<Stretch>& stretches);

// One chord heard as the beginning of the tune, in time for the last onset that the stretch before
// it lacks, with the same note on top: it is that last chord, in another voicing.
void join_last_chords(const OnsetTable& table, const std::vector<Heard>& notes,
                      const std::vector<int>& layers, std::vector<Stretch>& stretches);

}  // namespace loftbeat::follow
