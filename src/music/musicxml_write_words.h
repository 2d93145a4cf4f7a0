#pragma once

#include "music/musicxml_streams.h"

// How words and their line ends are laid under notes. Inside the MusicXML writer only.
namespace loftbeat::music {

// Syllables go to the topmost voice that strikes a note at their place; one without a note there is
// left out. Then chooses the verse that tells the line ends (NoteSigns::line_end has to be set):
// the lowest whose next syllable begins the next phrase wherever a line ends; if there is none, a
// verse without words, so that the note itself ends the line.
void place_words(const Score& score, WritingPlan& plan);

}  // namespace loftbeat::music
