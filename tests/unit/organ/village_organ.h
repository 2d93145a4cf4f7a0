#pragma once

#include <gtest/gtest.h>

#include <string>

#include "organ/organ.h"

namespace loftbeat::organ {

// An invented organ with one of everything: Great, Swell in a box, Pedal.
inline const std::string kVillageOrgan = R"(name = "St Example"
power = -1
[[division]]
name = "Great"
channel = 1
[[division]]
name = "Swell"
channel = 2
compass = ["C2", 93]
enclosed = true
box-closed = -10
[[division]]
name = "Pedal"
channel = 3
pedal = true
[[stop]]
name = "Open Diapason"
division = "Great"
pitch = "8"
family = "principal"
side = "right"
row = 1
place = 2
midi = { control = 20, channel = 1 }
[[stop]]
name = "Principal"
division = "Great"
pitch = 4
family = "principal"
power = -3
midi = { nrpn = 1025, channel = 16 }
[[stop]]
name = "Twelfth"
division = "Great"
pitch = "2 2/3"
family = "principal"
midi = { note = 24, channel = 10 }
[[stop]]
name = "Mixture"
division = "Great"
pitch = "III"
family = "mixture"
midi = { sysex = "F0 7D 01 01 F7", off-sysex = "F07D0100F7" }
[[stop]]
name = "Open Diapason"
division = "Swell"
pitch = "8"
family = "principal"
midi = { program = 4, off-program = 5, channel = 10 }
[[stop]]
name = "Oboe"
division = "Swell"
pitch = "8"
family = "reed"
rank = "oboe-8"
[[stop]]
name = "Bourdon"
division = "Pedal"
pitch = "16"
family = "stopped-flute"
[[coupler]]
name = "Swell to Great"
played-on = "Great"
sounds = "Swell"
midi = { control = 30, channel = 1, on = 0, off = 127 }
[[coupler]]
name = "Great to Pedal"
played-on = "Pedal"
sounds = "Great"
[[coupler]]
name = "Swell Octave"
played-on = "Swell"
sounds = "Swell"
semitones = 12
[[tremulant]]
name = "Tremulant"
division = "Swell"
rate = 5
[[piston]]
name = "Great 1"
division = "Great"
stops = ["Great Open Diapason", "principal"]
midi = { program = 1, channel = 16 }
[[piston]]
name = "General 1"
by = "toe"
stops = ["Oboe 8'", "Bourdon"]
couplers = ["swell to great"]
midi = { note = 1, channel = 16 }
[split]
key = "C3"
channel = 5
below = "Pedal"
above = "Great"
)";

inline Organ village_organ() {
  const auto organ = parse_organ(kVillageOrgan, "village.organ.toml");
  EXPECT_TRUE(organ.ok()) << to_string(organ.error());
  return organ.ok() ? *organ : Organ{};
}

}  // namespace loftbeat::organ
