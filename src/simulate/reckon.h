#pragma once

#include <vector>

#include "simulate/keys.h"
#include "simulate/truth.h"

namespace loftbeat::simulate {

// Draws the truth from what was really pressed: notes (without stamps), passes, joins, absences.
[[nodiscard]] Truth reckon(const Stage& stage, const std::vector<PlayedAct>& acts,
                           const std::vector<Press>& presses);

}  // namespace loftbeat::simulate
