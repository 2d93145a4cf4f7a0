#pragma once

#include <vector>

#include "pipes/rank.h"
#include "pipes/zones.h"

namespace loftbeat::pipes {

// Private to pipes/: the steady sound of the sample of a zone, from which both the samples and the
// sound power are made, so that the two cannot part.
struct SteadySound {
  // A partial. `cents` is how far its source lies from its pipe's pitch (0 but for the choir).
  struct Line {
    std::size_t pipe = 0;
    int harmonic = 1;
    double cents = 0;
    double power = 0;  // 1 = 1 pW
  };
  std::vector<double> pipe_hz;  // by pipe, scatter and offset included
  std::vector<Line> lines;
  double noise_power = 0;  // 1 = 1 pW
  double noise_from_hz = 0;

  [[nodiscard]] double hz(const Line& line) const;
};
[[nodiscard]] SteadySound steady_sound(const Rank& rank, const Zone& zone);

// By how many cents a key that shares its zone's sample is tuned off it: -1, 0 or 1; 0 at the root.
[[nodiscard]] int key_cents(const Rank& rank, int key);

// Level of a harmonic against the trend's zero, dB (tone.h).
[[nodiscard]] double harmonic_db(const Tone& tone, double pipe_hz, int harmonic);

}  // namespace loftbeat::pipes
