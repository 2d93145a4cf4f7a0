#pragma once

#include <vector>

#include "simulate/keys.h"
#include "simulate/truth.h"
#include "take/take.h"

namespace loftbeat::simulate {

// A message at its true time.
struct Sent {
  double at_s = 0;
  take::Event event;
  int note = -1;  // index of the true note whose on or off this is; twins have -1
};

// The channel of a stroke on this console.
[[nodiscard]] int channel_of(const Console& console, Limb limb);

// Velocities by the console's kind and the acts' softness.
void set_velocities(const Stage& stage, const std::vector<PlayedAct>& acts,
                    std::vector<Press>& presses);

// Key and coupler messages of the presses; note i is the i-th press.
[[nodiscard]] std::vector<Sent> key_messages(const Stage& stage, const std::vector<Press>& presses);

// Sustain pedal messages of an act whose player changes it with the beat, late.
void add_sustain(const PlayedAct& played, std::vector<Sent>& sent);

// Sorts the messages, gives each its stamp (bunching, jitter, drift; order kept) and writes the
// stamps of the notes into `notes`.
[[nodiscard]] take::Take stamp(const Stage& stage, std::vector<Sent> sent,
                               std::vector<TrueNote>& notes);

}  // namespace loftbeat::simulate
