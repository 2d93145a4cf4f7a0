#pragma once

#include <cstdint>

#include "simulate/chords.h"
#include "simulate/stroke.h"

namespace loftbeat::simulate {

// What chance and tune give to every stage after the script.
struct Stage {
  const Piece& piece;
  const Player& player;
  const Harmony& harmony;
  std::uint64_t seed;
};

// Turns an act into strokes: score notes of the voices meant to sound, dressed by its textures.
// Leaves their times open. Fills in `voices` and `strokes`.
void voice_act(const Stage& stage, PlayedAct& played);

// Streams of chance apart for each act.
[[nodiscard]] Random stream_for(const Stage& stage, const PlayedAct& played, const char* name);

}  // namespace loftbeat::simulate
