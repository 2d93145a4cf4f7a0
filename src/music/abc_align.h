#pragma once

#include <vector>

#include "music/abc_voice.h"

namespace loftbeat::music {

// Makes the bars of all voices fit one by one. A voice whose bars have the lengths of the first
// sounding voice's, as far as both go, stays as it is. Of any other it is asked which explains more
// of its bar lines, their number or their time; by time, the voice is divided anew at the first
// voice's bar lines. Example: bars of 4, 3, 5 and 4 quarters against four of 4 agree in two
// lengths, but in three times (4, 12, 16), so the voice is divided anew and nothing in it moves.
void align_abc_bars(const std::vector<AbcVoice*>& voices, AbcReport& report);

}  // namespace loftbeat::music
