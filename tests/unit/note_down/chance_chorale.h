#pragma once

#include <cstdint>

#include "music/score.h"
#include "notate/setting.h"

namespace loftbeat::notate {

// A four-part tune by chance, of another making than simulate/invented_hymn.h: every part moves by
// itself. Chords on the beats; quavers passing in any part, dotted crotchets with a quaver, notes
// held over the beat and over the bar line, unisons, notes struck again, lines that end long.
struct Chorale {
  Setting setting;
  music::Score score;  // notes, bars, length; voices 0 to 3
};
[[nodiscard]] Chorale chance_chorale(std::uint64_t seed);

}  // namespace loftbeat::notate
