#pragma once

#include <optional>

#include "base/base.h"

namespace loftbeat::notate {

// One key as it was played, on the clock of the take.
struct HeardKey {
  double on = 0;       // seconds
  double off = 0;      // seconds, the key's release; > on
  int pitch = 60;      // MIDI key
  bool pedal = false;  // played by the feet, where the console tells
  friend bool operator==(const HeardKey&, const HeardKey&) = default;
};

// One key as it is understood: where in the score it was struck and let go.
struct StruckKey {
  int pitch = 60;
  bool pedal = false;
  Tick at = 0;        // onset, on the grid
  Tick released = 0;  // by the player's own time, on no grid; > at
  // What was answered about it; nothing: as Loftbeat reads it.
  std::optional<int> voice;    // from 0, the topmost
  std::optional<Tick> length;  // > 0
  friend bool operator==(const StruckKey&, const StruckKey&) = default;
};

}  // namespace loftbeat::notate
