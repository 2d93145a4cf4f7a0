#pragma once

#include <string_view>

#include "organ/organ.h"
#include "voice/performance.h"

namespace loftbeat::voice {

// One chord, held for `seconds` (> 0), with what is drawn. `text` names the keys as "C4 E4 G4",
// "F#4", "Bb3" or MIDI numbers; keys after a "+" are played by the feet: "C4 E4 G4 + C2". The hands
// play division `hands`, or, if that is negative, the first manual that sounds. Errors (wrong_use):
// a word that is no key, a key that the division does not have, feet without a pedal that sounds.
[[nodiscard]] Result<Performance> perform_chord(const organ::Organ& organ,
                                                const organ::Registration& drawn,
                                                std::string_view text, double seconds,
                                                int hands = -1);

}  // namespace loftbeat::voice
