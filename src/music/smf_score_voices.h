#pragma once

#include <vector>

#include "music/score.h"
#include "music/smf_score_grid.h"

namespace loftbeat::music {

// Gives every note a voice and a staff, and fills score.notes, voices and staves.
//
// Parts (track and channel) are ordered by their mean pitch, highest first, and each has voices
// and a staff of its own. Within a part there are as many voices as keys sound together in a
// tenth of its onsets. Each chord is laid on the voices that are free, from the top down, so that
// voices do not cross and go on from their last pitch as closely as they can; a note above all
// that sounds is the top voice's. What finds no voice gets one more below.
// Example: one track of a four-part hymn: soprano 0, alto 1, tenor 2, bass 3, also where only
// the tenor moves. Linear in the number of notes.
void give_voices(Score& score, const std::vector<GridNote>& notes, int parts);

}  // namespace loftbeat::music
