#pragma once

#include "music/musicxml_written.h"

namespace loftbeat::music {

// Numbers the voices from the top of the system down and sets WrittenNote::lane.
//
// 1. A voice of the file belongs to one staff: notes that it has on another staff go with it while
//    they are less than a fifth of the voice; else they count as a voice of their own.
// 2. Voices go by part, staff, then mean pitch, the higher first. A voice with less than a quarter
//    of the notes of the staff's busiest voice comes and goes: it stands below the others, on the
//    lowest staff of the system above them, so that tune and bass keep first and last place.
// 3. A voice takes as many numbers as its largest chord has notes. The notes of a chord are
//    numbered from the top; in the last voice of several from the bottom, so that a note alone is
//    the tune in the first and the bass in the last.
//
// Example: a hymn on two staves, two-note chords in one voice on each: 0 soprano, 1 alto, 2 tenor,
// 3 bass; where tenor and bass share one written note, it is 3.
//
// With voices_as_numbered, the voice named n in the file has the number n - 1 instead.
void assign_voices(WrittenScore& score);

}  // namespace loftbeat::music
