#pragma once

#include <vector>

#include "music/score.h"

namespace loftbeat::music {

// Where a line may end, by what says so; ticks of the score as played, in any order.
struct LineEnds {
  std::vector<Tick> lyric_lines;
  std::vector<Tick> fermatas;
  std::vector<Tick> breath_marks;
  std::vector<Tick> double_bars;
};

// Divides the score into phrases by the first of the four that yields two phrases or more. A
// phrase begins with the first note struck at or after the line end before it, so its upbeat
// belongs to it; the first begins at 0, the last ends at the score's length, and none leaves a
// gap. Requires the notes sorted and the length set. Fills phrases and phrase_source.
//
// Example: 16 quarters in 4/4 with an upbeat, a fermata on the dotted minim from 4 to 7:
// phrases [0, 7) and [7, 16).
void find_phrases(Score& score, const LineEnds& ends);

}  // namespace loftbeat::music
