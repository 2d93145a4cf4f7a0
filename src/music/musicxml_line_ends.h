#pragma once

#include "music/phrases.h"

namespace loftbeat::music {

// A syllable, or the mark of a line's end, on a note as played.
struct PlayedLyric {
  TickSpan note;
  bool text = false;
  bool line_end = false;
};

// Places where a fermata stands, as played.
struct PlayedFermatas {
  std::vector<TickSpan> notes;  // notes and rests that carry one
  std::vector<Tick> bar_lines;  // bar lines that carry one
};

// Where lines end by the text: a line ends before the next syllable, so that notes sung on its
// last one belong to it; with the note itself where no syllable follows.
[[nodiscard]] std::vector<Tick> lyric_line_ends(std::vector<PlayedLyric> lyrics);

// Fermatas that overlap are one: it stands at the latest onset of the notes that carry it and
// ends with the last of them. A fermata on a bar line belongs to the note struck last among those
// that end there. Fills score.fermatas and returns where they end. Requires score.notes.
std::vector<Tick> place_fermatas(PlayedFermatas fermatas, Score& score);

}  // namespace loftbeat::music
