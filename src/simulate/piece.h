#pragma once

#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::simulate {

// What is to be played. From the plan the tempo, the beat unit and the length of interludes are
// taken; everything else comes from the route that was laid from it.
struct Piece {
  const music::Score& score;
  const plan::Plan& plan;
  const plan::Route& route;
};

// Beats a minute that the plan sets, else the score's first tempo mark in the plan's beat, else 72.
[[nodiscard]] double set_tempo_bpm(const Piece& piece);

}  // namespace loftbeat::simulate
