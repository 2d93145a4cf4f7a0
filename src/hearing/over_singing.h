#pragma once

#include <cstddef>

#include "hearing/loudness.h"

namespace loftbeat::hearing {

// What is left of the organ over the singing. All figures are differences of specific loudness,
// N'(organ + singing) - N'(singing), integrated over a stated stretch of the Bark scale: masking
// by the singers, and of the organ by itself, is in them.
//
//   support   from the critical band of the lowest fundamental sung to that of the highest
//   lead      above it, up to 24 Bark
//   exposure  the part of it from 12.3 Bark up (the upper band, third octaves 2 kHz and higher);
//             worth a look where few sing: with many the singing covers it
//
// The limits are limits of the method's own critical bands, since within one band N' is the same
// everywhere and a limit inside would cut one band's loudness in two. So the fundamental of the
// tune's highest note is all support, its octave all lead. The upper band begins (1.78 kHz) two
// octaves above A4, the middle of a hymn tune: from there on the fundamentals of a 2' rank and
// of mixtures lie. The excitation of a strong low tone spreads upwards in hearing: with no singing
// to cover it, a lone fundamental has some lead too.

// Fundamentals of the people's singing, Hz, both included.
struct VoiceBand {
  double lowest_hz = 0;
  double highest_hz = 0;
};

// The tune is sung at its pitch and an octave below. MIDI notes of its lowest and highest note.
// Example: D4 (62) to D5 (74) -> 146.8 to 587.3 Hz.
[[nodiscard]] VoiceBand voice_band_of_tune(int lowest_note, int highest_note);

// First critical band of the upper band, which "upper-band loudness" means everywhere.
inline constexpr std::size_t kUpperBandFirst = 11;
[[nodiscard]] double upper_band_sone(const Loudness& of);

struct OverSinging {
  double organ_sone = 0;    // the organ alone
  double singing_sone = 0;  // the singing alone
  double total_sone = 0;    // both together
  double lead_sone = 0;
  double support_sone = 0;
  double exposure_sone = 0;
};

// Both spectra as they arrive at the one listener, dB re 20 uPa. Takes three loudnesses' time.
// Nobody singing (silence): lead, support and exposure are the organ's own loudness there.
// Worked number: an organ silent over any singing gives 0 everywhere.
[[nodiscard]] OverSinging over_singing(const BandLevels& organ, const BandLevels& singing,
                                       const VoiceBand& sung, SoundField field);

}  // namespace loftbeat::hearing
