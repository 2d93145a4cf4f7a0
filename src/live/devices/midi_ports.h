#pragma once

#include <string>
#include <vector>

namespace loftbeat::live {

// What one MIDI system of this computer offers, or why it offers nothing.
struct MidiSystem {
  std::string name;                 // "ALSA", "JACK"
  std::vector<std::string> inputs;  // names of ports that send; none where nothing is connected
  std::string trouble;              // a plain sentence; empty if the system answers
};

// Asks every system that RtMidi was built with. Slow (some tenths of a second where a system does
// not answer); call it from one thread at a time.
[[nodiscard]] std::vector<MidiSystem> look_for_midi();

}  // namespace loftbeat::live
