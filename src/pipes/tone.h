#pragma once

#include <vector>

namespace loftbeat::pipes {

// A resonance that the trend does not have (the voice, the oboe).
struct Formant {
  double hz = 500;
  double db = 6;          // at its middle
  double width_hz = 200;  // half the gain in dB so far away on either side
};

// The steady spectrum: two straight lines of level against the logarithm of frequency. Harmonic n
// of a pipe at f Hz, against the first, before formants:
//
//   -below * lg2(n)                        up to the corner,
//   -below * lg2(corner) - above * lg2(n / corner)   above it,
//
// with corner = `corner` * (262 Hz / f)^`corner_fall`. Even harmonics of a stopped pipe lie
// `even_db` + `even_rise_db` * n from it, never above `even_most_db`. Worked number (principal:
// below 6.02, corner 5, above 16, at 262 Hz): harmonic 2 is 6.0 dB, harmonic 10 30.0 dB down.
struct Tone {
  double below_db = 6.02;  // dB an octave
  double corner = 5;       // harmonic number at middle C
  double above_db = 16;    // dB an octave
  double corner_fall = 0.25;
  double even_db = 0;
  double even_rise_db = 0;
  double even_most_db = 0;
  std::vector<Formant> formants;
};

// How a pipe begins and ends. Speech time at f Hz: `seconds` * (262 Hz / f)^`fall`. Worked number:
// 0.08 s and 0.7 give 0.21 s at 65 Hz and 0.030 s at 1046 Hz.
struct Speech {
  double seconds = 0.08;
  double fall = 0.7;
  double upper_late = 0.3;  // share of the speech time by which the highest partials come later
                            // (+) or earlier (-), -0.9 to 0.9
  double modes_db = -24;    // inharmonic modes of the pipe while it starts, against the tone
  double stretch = 0.012;   // by which mode n lies above harmonic n, for each n above 1
  double chiff_db = 12;     // wind noise while the pipe starts, against steady wind noise
  double release_seconds = 0.25;  // at 262 Hz: until it has fallen by 100 dB
};

// The steady noise of the wind: even from the pitch to `corner_hz` (density an octave), then
// falling by 6 dB an octave. `noise_db` is its power against the tone's; -200 is none.
struct Wind {
  double noise_db = -45;
  double corner_hz = 3000;
};

// By how much pipes differ at random (fixed seed), at most.
struct Scatter {
  double cents = 0.7;  // each pipe; neighbours that share a sample differ by whole cents besides
  double db = 0.5;
};

// Several sources at one pitch: the choir. They lie evenly from -spread to +spread about it.
struct Ensemble {
  int voices = 1;
  double spread_cents = 0;
};

}  // namespace loftbeat::pipes
