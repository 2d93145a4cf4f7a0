#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "crowd/rt/choir.h"
#include "room/singing.h"

namespace loftbeat::crowd {

// What people sing with: an open "ah".

// A resonance of the mouth and throat.
struct Formant {
  double hz = 0;
  double bandwidth_hz = 0;
};
inline constexpr std::size_t kFormantCount = 4;
using Vowel = std::array<Formant, kFormantCount>;

// Middle figures for an open vowel between "ah" and "aw", women's a sixth higher; from memory of
// the classic measurements of English vowels (men 730, 1090, 2440 Hz for "ah", 570, 840, 2410 for
// "aw"); bandwidths from memory of the same literature.
inline constexpr Vowel kMens = {{{650, 80}, {1080, 90}, {2450, 120}, {3400, 200}}};
inline constexpr Vowel kWomens = {{{750, 90}, {1220, 100}, {2810, 140}, {3900, 220}}};

// Power that a voice gives to a partial of `hz`, up to a factor: the spectrum of ANSI S3.5 at this
// effort (room/singing.h, power per Hz between its bands by straight lines over log frequency),
// which people are also measured by, and on it the vowel's resonances, each a hill of 12 dB whose
// half height is a bandwidth away (an assumption: the standard's spectrum is a mean over all
// vowels). From 8 to 10 kHz it fades to nothing. Worked number: at a lone formant 12 dB above the
// standard, a bandwidth beside it 6 dB.
[[nodiscard]] double vowel_power(const Vowel& vowel, room::Effort effort, double hz);
inline constexpr double kFormantDb = 12;

// One period of a voice at a MIDI pitch, formants moved by the factor `size`. Mean square 1.
[[nodiscard]] rt::Wave sung_wave(const Vowel& vowel, room::Effort effort, int pitch, double size);

// So many voices are sung one by one; beyond that each stands for several.
inline constexpr int kMostVoices = 48;

struct ChoirOrder {
  int people = 60;  // 1 to 2000
  room::Effort effort = room::Effort::raised;
  std::uint64_t seed = 1;
};

// The level at which one person alone is heard, dB re 20 uPa: the power of room/singing.h (ANSI
// S3.5-1997 at 1 m and 11 dB, less directivity) in a hall of 200 m2 of absorption, as the organ is
// heard dry (4 / A: 17 dB). Worked number: raised 68.3 + 11 - 2.5 - 17.0 = 59.8 dB.
[[nodiscard]] double level_of_one_db(room::Effort effort);
// Level of all together: 10 lg N over one (incoherent addition; text-book law, and what is
// remembered of choir measurements). Worked number: 100 people `raised`: 79.8 dB.
[[nodiscard]] double level_of_people_db(room::Effort effort, int people);
// Full scale (mean square 1) is this level, as for the organ (voice/).
inline constexpr double kFullScaleDb = 112;

// Men an octave below the tune, women as written, one of each in turn, women first. Off the pitch
// by 15 cents (standard deviation; choirs 10 to 15, from memory), vibrato 5 to 6.5 Hz and 5 to 25
// cents either way, each late or early by 30 ms for good (ensembles 30 to 50 ms: Rasch 1979), level
// 2 dB: assumptions where no source is named. The mean of the cents is 0 and the sum of
// the powers is exactly N times one, however they fall. Channel power is that of one loudspeaker:
// in each channel the mean square is that of all people.
[[nodiscard]] rt::ChoirSpec make_choir(const ChoirOrder& order);

}  // namespace loftbeat::crowd
