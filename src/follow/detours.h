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

// The last chords of a pass heard elsewhere: a few onsets, in time for those that the stretch
// before them lacks at the end of the tune, after which nothing follows or the tune begins again.
// They are the last chords in another voicing. A chord heard as the tune's first must have the last
// one's note on top: it could be a false start.
void join_last_chords(const OnsetTable& table, const std::vector<Heard>& notes,
                      const std::vector<int>& layers, std::vector<Stretch>& stretches);

}  // namespace loftbeat::follow
