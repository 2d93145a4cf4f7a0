#pragma once

#include <string_view>

#include "music/score.h"

namespace loftbeat::music {

// Whether a line in capitals alone may be a tune's name: below the title yes; where makers are
// named only beside a metre.
enum class HeadingPlace { below_title, elsewhere };

inline constexpr std::size_t kLongestTuneName = 60;  // bytes

// Takes what one line above the music (not the title) says of the tune: its name and its poetic
// metre, each where it is not known yet. Understood, whatever stands round it:
//   "AZMON"                    in capitals alone, as hymn books print tunes
//   "Tune: Azmon", "Melody: 'Azmon' C. Glaser, 1839", "Music: 'Azmon' ..." (in quotes)
//   "C.M.", "Metre: 8.6.8.6", "AZMON  C.M."
// Anything else is passed over. Source: common practice, no source.
void take_heading(std::string_view line, HeadingPlace place, Score& score);

}  // namespace loftbeat::music
