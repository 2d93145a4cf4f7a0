#pragma once

#include <cstdint>

#include "simulate/piece.h"
#include "simulate/player.h"
#include "simulate/truth.h"
#include "take/take.h"

namespace loftbeat::simulate {

struct Performance {
  take::Take take;
  Truth truth;
};

// Lets the player play the piece. Pure; the same arguments give the same events. Requires a score
// with notes and bars; a route without passes plays the tune once as verse 1.
// Without faults and habits every key falls on its beat: at 60 quarters a minute the second
// crotchet of a tune begun at 1.5 s comes at exactly 2.5 s.
[[nodiscard]] Performance perform(const Piece& piece, const Player& player, std::uint64_t seed);

}  // namespace loftbeat::simulate
