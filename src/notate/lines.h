#pragma once

#include <vector>

#include "notate/parts.h"
#include "notate/setting.h"
#include "notate/time_line.h"

namespace loftbeat::notate {

// Where lines of the text begin, but for the first one's, which is 0.

// Marks made while playing, in seconds of the take: each is put to a chord near it, rather one that
// comes after a long note; a mark may come while the last note of the line sounds or just after the
// next one has begun. Two marks at one chord are one.
[[nodiscard]] std::vector<Tick> lines_from_marks(const std::vector<double>& marks,
                                                 const std::vector<StruckChord>& chords,
                                                 const TimeLine& line, const Setting& setting);

// A guess: lines of two bars or of four, all alike, where nearly each ends with a long note;
// `sureness` 0 to 1 is the share that do. Empty if nothing fits.
struct LineGuess {
  std::vector<Tick> lines;
  double sureness = 0;
};
[[nodiscard]] LineGuess guess_lines(const std::vector<StruckChord>& chords, Tick end,
                                    const Setting& setting);

}  // namespace loftbeat::notate
