#pragma once

#include <QString>

#include "music/score.h"

namespace loftbeat::window {

// "F sharp 4", spelt by the key in force; 4 is the octave from middle C on.
[[nodiscard]] QString pitch_words(const music::Score& score, const music::Note& note);
// "dotted half note"; a length that no single value has: "2.5 quarter notes".
[[nodiscard]] QString length_words(Tick length);
// "F sharp 4, half note, beat 3": requires the score to have bars.
[[nodiscard]] QString note_words(const music::Score& score, int note);

}  // namespace loftbeat::window
