#pragma once

#include <vector>

#include "simulate/console.h"

namespace loftbeat::simulate {

// Lays the player's stop movements at the joins of `truth`; adds them to its stop_moves.
void move_stops(const Player& player, const std::vector<PlayedAct>& acts, Truth& truth,
                std::vector<Sent>& sent);

}  // namespace loftbeat::simulate
