#pragma once

#include <vector>

#include "hearing/bands.h"
#include "pipes/rank.h"

namespace loftbeat::voice {

// One key of one rank.
struct PipeKey {
  const pipes::Rank* rank = nullptr;
  int key = 60;
};

// By how much the level of a third octave is expected (root of the mean square) to lie off the sum
// of its powers because partials of different pipes beat: over `seconds`, the pipes meeting in any
// phase. Two partials of powers a and b and frequencies d apart add
// 2 sqrt(ab) cos(...) to a + b; over T seconds that keeps a share of sin(pi d T) / (pi d T).
// Partials of one sample never meet: they lie on different bins of its loop. dB, 0 = nothing beats.
hearing::BandLevels expected_beats_db(const std::vector<PipeKey>& pipes, double seconds);

}  // namespace loftbeat::voice
