#pragma once

#include <cstddef>
#include <vector>

#include "simulate/script.h"
#include "simulate/tempo.h"
#include "simulate/truth.h"

namespace loftbeat::simulate {

enum class Limb { right_hand, left_hand, feet };

// One key to be pressed, on its way from the score to the file.
struct Stroke {
  int score = -1;
  int meant = -1;
  NoteKind kind = NoteKind::right;
  Tick tick = 0;
  Tick end = 0;
  std::size_t leg = 0;
  int voice = -1;  // score voice; fillers -1
  int line = 0;    // whose next stroke ends this one: the voice, or 10 and up for fillers
  Limb limb = Limb::right_hand;
  int pitch = 60;
  double after_s = 0;  // struck so much later than its chord (a correction, a bounce, a trill)
  double lasts_s = 0;  // > 0: released so long after its onset, whatever is written
  bool corrected = false;
  int velocity = 64;
  double intended = 0;
  double on = 0;
  double off = 0;
};

// One act with its strokes: sorted by (leg, tick), chord by chord.
struct PlayedAct {
  Act act;
  ActTimes times;
  std::vector<bool> voices;  // score voices meant to sound
  std::vector<Tick> phrase_ends;
  std::vector<Stroke> strokes;
  std::vector<int> held;  // score notes not struck since the key sounded
};

}  // namespace loftbeat::simulate
