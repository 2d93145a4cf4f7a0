#pragma once

#include <vector>

#include "pipes/rank.h"

namespace loftbeat::pipes {

// The highest pipe that is built: 2/3 inch long, the top C of a 2' rank (MIDI note 120). A pipe
// that would be shorter is made an octave lower; whether it would be is decided for the root of its
// zone (zones.h). Source of the limit: an encyclopedia's article on mixtures.
inline constexpr double kHighestPipeHz = 8372.018;

// Foot pitch as written, "8", "2 2/3", "1/2"; 0 if it is none.
[[nodiscard]] double feet_from(const std::string& pitch);

// Equal temperament, A4 (69) = 440 Hz (ISO 16). Key 36 = 65.406 Hz.
[[nodiscard]] double key_hz(double key);

// What the pipes of a key are meant to sound: equal temperament times 8 / feet (just, so that
// mutations do not beat), times the offset of a celeste. One entry a pipe, in the order of the
// recipe. Example: 2 2/3' at key 60: 784.877 Hz, 1.96 cents above the tempered 783.991.
[[nodiscard]] std::vector<double> intended_hz(const Rank& rank, int key);

}  // namespace loftbeat::pipes
