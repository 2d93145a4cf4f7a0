#pragma once

#include <cstdint>
#include <vector>

#include "room/acoustics.h"

namespace loftbeat::room {

// What the church answers to a click: the direct sound in the first sample, and with it a noise
// that dies away in each third octave as Sabine's time says. For convolution with dry sound.
//
// The scale is that of the level formulas: a dry sound as it would be at 1 m from an all-round
// source in the open comes out as it is at the listener. Energy: the direct sound is Q / r^2, the
// noise 16 pi / A in every band (so the total exceeds 1 near the source or in a small room).
// Worked number: r = 10 m, Q = 1, A = 50 m2: direct 0.01 (-20 dB), noise 1.005 (0 dB).
struct ResponseSpec {
  double sample_rate_hz = 48000;  // 8000 to 192000
  double distance_m = 10;
  double directivity = 1;
  // The noise is made from this number alone. Two channels take two seeds and are then unlike each
  // other, as the two ears are in a diffuse field.
  std::uint32_t seed = 1;
  // The response ends 66 dB down in the band that rings longest, and after this at the latest
  // (0.1 to 20).
  double longest_s = 12;
};

// The same spec and room give the same samples on one machine. About a second of work for
// ten seconds at 48 kHz. Not for the audio thread.
// Below 22 Hz and above 14 kHz the outermost bands are continued.
[[nodiscard]] std::vector<float> impulse_response(const Acoustics& state, const ResponseSpec& spec);

}  // namespace loftbeat::room
