#pragma once

#include <optional>
#include <vector>

#include "music/score.h"
#include "organ/organ.h"
#include "plan/route.h"
#include "voice/performance.h"

namespace loftbeat::voice {

// Where hands and feet play, and what: from a registration and the score's notes to keys.

// The divisions in use. The hands play the first manual that sounds with what is drawn, itself or
// through a coupler; with nothing drawn, the first manual. The feet play the first pedal division
// that sounds; nothing where none does: then the bass is played by the hands.
struct Manuals {
  int hands = 0;
  std::optional<int> feet;
};
[[nodiscard]] Manuals manuals_for(const organ::Organ& organ, const organ::Registration& drawn);

// One note as it is to be played: when in score time, and which key.
struct PlayedKey {
  Tick onset = 0;
  Tick end = 0;
  int division = 0;
  int key = 60;
};

// The notes of one span of a pass, dressed by its textures:
//   as-written      the lowest voice on the pedal, the others on the manual
//   no-pedal        all on the manual
//   tune-up-octave  the topmost voice an octave higher
//   unison          the tune alone, in the hands with its lower octave, in the feet two octaves
//   down fuller          as written; besides, the tune an octave lower and the tenor an octave
//   higher,
//                   where that key lies between bass and tune and is not taken
//   free-harmony    as written: what the player invents is not in the score
// (Ours; common practice, no source, differs from player to player.) Transposed as the pass says;
// a key outside the compass moves by octaves into it.
[[nodiscard]] std::vector<PlayedKey> dressed(const music::Score& score, const plan::RoutePass& pass,
                                             TickSpan span, const organ::Organ& organ,
                                             const Manuals& manuals);

}  // namespace loftbeat::voice
