#pragma once

#include "room/bands.h"

namespace loftbeat::room {

// How people sing. No published spectrum of a singing congregation is known to us; ANSI S3.5-1997
// (third octaves) has the voice at four efforts, and `raised` stands for half-hearted, `loud` for
// hearty singing (common practice, no source).
enum class Effort { normal, raised, loud, shout };

// Sound pressure level of one voice at 1 m on its axis, free field, dB re 20 uPa.
// The standard has 160 Hz to 8 kHz. Below and above, the level goes on with the slope of the
// outermost octave (160 to 315 Hz, 4 to 8 kHz); those bands are marked by `extrapolated_voice()`.
// Worked number: `raised` at 500 Hz is 60.80 dB; its published bands sum to 68.3 dB.
[[nodiscard]] const BandLevels& voice_at_1_m(Effort effort);
[[nodiscard]] BandMask extrapolated_voice();

// How much louder a voice is in front than on average over all directions, dB. A textbook order of
// magnitude, from memory; the church file can change it.
inline constexpr double kVoiceDirectivityDb = 2.5;

// Sound power level of `singers` voices, dB re 1 pW, added as incoherent sounds: 10 lg N over one
// voice. Nobody gives silence.
[[nodiscard]] BandLevels singing_power(Effort effort, int singers,
                                       double voice_directivity_db = kVoiceDirectivityDb);

}  // namespace loftbeat::room
