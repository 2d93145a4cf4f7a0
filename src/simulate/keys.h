#pragma once

#include <vector>

#include "simulate/voicing.h"

namespace loftbeat::simulate {

// A stroke on the way to its channel.
struct Press {
  std::size_t act = 0;  // index into the list of played acts
  Stroke stroke;
  int channel = 0;
};

// One key has one finger on it: where a key is wanted while it is down on the same channel, it is
// let go shortly before (or kept down, by habit); two voices on one key at once are one press.
// Score notes that get no press of their own are added to their act's `held`. Returns presses
// sorted by (on, pitch, channel).
[[nodiscard]] std::vector<Press> settle_keys(const Stage& stage, std::vector<Press> presses,
                                             std::vector<PlayedAct>& acts);

}  // namespace loftbeat::simulate
