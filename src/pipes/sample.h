#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "pipes/pipe_spectrum.h"
#include "pipes/rank.h"
#include "pipes/zones.h"

namespace loftbeat::pipes {

// The recording of the root of a zone. Private to pipes/ and its tests.
//
//   [0, loop_start)         the pipe begins to speak
//   [loop_start, loop_end)  steady; played round and round
//   [loop_end, size)        the loop's beginning once more, for interpolation
//
// The points around loop_end are the very ones around loop_start. What the joint of the loop adds
// lies 76 dB and more under the tone. Rounding to 16 bits lies all over the loop alike: 70.4 dB and
// more under the tone for keys 36 to 96, 68 for the weakest pipe beyond (key 105).
struct Sample {
  std::vector<std::int16_t> points;
  std::size_t loop_start = 0;
  std::size_t loop_end = 0;
  double peak = 0;  // before rounding, 1 = full scale; over 1 is cut off
};
[[nodiscard]] Sample make_sample(const Rank& rank, const Zone& zone);

// How long the loop is made so that every pipe runs through a whole number of periods.
struct LoopLength {
  std::size_t points = 0;
  std::vector<std::size_t> periods;  // by pipe
  double worst_cents = 0;            // by which a pipe is off through it
};
// Tries all lengths from `least` to `most` points and takes the first whose error is below a
// twentieth of a cent, else the best. Example: 261.63 Hz from 19200 points on: 19265 points, 105
// periods, 0.02 cents.
[[nodiscard]] LoopLength loop_length(const std::vector<double>& pipe_hz, std::size_t least,
                                     std::size_t most);

// A partial as it is sounded in the loop.
struct LoopTone {
  std::size_t bin = 0;  // periods in the loop
  double amplitude = 0;
  double phase = 0;  // of the cosine at loop_start
  int harmonic = 1;
};
// The steady part of a sound.
struct Loop {
  LoopLength length;
  std::vector<LoopTone> tones;
  std::vector<double> noise;  // the wind alone, one loop
  std::vector<double> sum;    // all of it, one loop
};
// Of a sine of this power (1 = 1 pW) in the sample, 1 = full scale.
[[nodiscard]] double amplitude_of(double power);
[[nodiscard]] Loop make_loop(const Rank& rank, const Zone& zone, const SteadySound& sound);

}  // namespace loftbeat::pipes
