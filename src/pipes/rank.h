#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "organ/family.h"
#include "pipes/tone.h"

namespace loftbeat::pipes {

// From `from_key` (MIDI) up to the next step a key speaks pipes at these foot pitches: one for a
// plain rank, several for a mixture, whose steps are its breaks.
struct Step {
  int from_key = 0;
  std::vector<double> feet;
};

// The recipe of a rank of pipes: what a SoundFont preset is made from. These are model ranks, not
// measured ones; `source` says where the figures come from.
struct Rank {
  std::string id;     // how organ files name it: "principal-8"
  std::string label;  // for people: "Principal 8"; at most 19 bytes of ASCII
  std::string source;
  organ::Family family = organ::Family::principal;
  double feet = 8;  // 8 / feet is the harmonic of the 8' pitch; of a mixture its first pipe's
  int program = 0;  // SoundFont preset number in bank 0
  double offset_cents = 0;  // sharp (+) of the true pitch: a celeste
  // How far the whole rank stands off besides, as tuners leave it, -1.2 to 1.2. Two ranks of one
  // pitch that agreed better would meet in the same phase at every stroke and beat once in many
  // seconds: one chord would always be too weak, another too strong. It counts as no offset.
  double tuning_cents = 0;
  // Sound power of what one key makes speak, dB re 1 pW: at middle C (key 60), and its change for
  // each octave upwards.
  double power_db = 90;
  double power_per_octave_db = -2;
  Tone tone;
  Speech speech;
  Wind wind;
  Scatter scatter;
  Ensemble ensemble;
  std::vector<Step> steps;  // sorted, the first from key 0; never empty
};

struct Recipes {
  std::vector<Rank> ranks;  // by program
  // Null if there is none of this id; valid while this object lives unchanged.
  [[nodiscard]] const Rank* find(std::string_view id) const;
  [[nodiscard]] std::vector<std::string> ids() const;  // for "Did you mean"
};

}  // namespace loftbeat::pipes
