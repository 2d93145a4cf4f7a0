#pragma once

#include <vector>

#include "follow/note_match.h"

namespace loftbeat::follow {

// A chord rolled so slowly that its last note comes when the next onset is due: where that onset
// strikes the same key again and nothing else, the roll's last note is taken for it, and the note
// that really is the next onset stays alone. The rhythm of the roll tells: a note that follows the
// roll as its others follow each other belongs to it, if a later strike of the same key is there
// for the onset after.
//
// Example: a chord spread 0.00 0.36 0.58 0.82 1.05 s, its top note at 1.40 s and the same key
// once more at 2.30 s, written a quaver later: 1.40 s is the chord's, 2.30 s the quaver's.
//
// Changes `pairs` in place; their order does not matter.
void give_rolls_their_last_note(const MatchTask& task, std::vector<Pair>& pairs);

}  // namespace loftbeat::follow
