#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "simulate/perform.h"

namespace loftbeat::simulate {

// A hymn, a plan, and somebody who plays it: all that a whole review needs.
struct ModelCase {
  std::string name;  // what is special, for messages
  music::Score score;
  plan::Plan plan;
  Player player;
  std::uint64_t seed = 0;
};

// A player who does everything right on purpose, invented from the seed: metre 2/2, 3/4, 4/4 or
// 6/8; 40 to 120 beats a minute (to 90 where the beat is a minim or dotted crotchet); last chord
// lengthened or cut by the bar, or hold and lift; breaths alike, out of the note or added up to
// 0.4 beats; upbeats gathered; fermatas held by plan; a planned broadening of the last verse; one
// piston at each join. Jitter of a good player: 10 to 15 ms, wander 1 to 1.5 percent.
[[nodiscard]] ModelCase model_player(std::uint64_t seed);

// The single faults of the suite: count slip, phase slip, late feet, smear, slowing of the
// play-over, one hesitation.
[[nodiscard]] std::vector<FaultKind> model_faults();

// The same player under the same seed with one of these faults, clearly beyond its tolerance.
[[nodiscard]] ModelCase model_player_with(FaultKind fault, std::uint64_t seed);

// A rough player: every texture and mixtures of them, 3 percent wrong and 3 percent missed notes,
// jitter of 25 ms (of chords or of notes, by seed), chords spread to 60 ms, tempo wandering by
// 8 percent, one restart.
[[nodiscard]] ModelCase rough_player(std::uint64_t seed);

struct ModelTake {
  plan::Route route;
  Performance performance;
};

// Lays the plan and lets the player play. Errors: those of plan::make_route.
[[nodiscard]] Result<ModelTake> play(const ModelCase& model);

}  // namespace loftbeat::simulate
