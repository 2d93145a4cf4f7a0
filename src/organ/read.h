#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "organ/instrument.h"

namespace loftbeat::organ {

// The organ file, `*.organ.toml`. Keys of the keyboard are written as notes ("C2" is the lowest of
// a manual, "C4" middle C, "F#4", "Bb3") or as MIDI numbers, 0 to 127. Channels count from 1.
//
//   name = "St Example"             optional
//   power = 0                       dB on every stop, -20 to 20; 0 if left out
//
//   [[division]]                    one or more, the order is the order everywhere
//   name = "Great"
//   compass = ["C2", "C7"]          lowest and highest key; "C2" to "C7" if left out, for a pedal
//                                   "C2" to "G4"
//   channel = 1                     MIDI channel, 1 to 16; left out where it sends nothing
//   pedal = false                   true: it is played with the feet
//   enclosed = false                true: it stands in a swell box
//   box-closed = -12                dB when shut, -40 to 0
//   box-cutoff = 1500               Hz, the low-pass when shut, 200 to 20000
//   box-control = 11                controller of the swell pedal, 0 to 127
//
//   [[stop]]                        one or more
//   name = "Open Diapason"          without division and foot pitch
//   division = "Great"
//   pitch = "8"                     feet: "16", "2 2/3", "1 3/5" ... or 8; Roman numerals "II" to
//                                   "VIII" for a mixture
//   family = "principal"            "principal", "open-flute", "stopped-flute", "string",
//                                   "celeste", "mutation", "mixture" or "reed"
//   rank = "principal-8"            the pipes that speak; left out: family and pitch, as here
//   power = 0                       dB against that rank, -20 to 20
//   side = "left"                   "left", "right" (jambs) or "above" (tabs over the manuals)
//   row = 1                         1 to 20, from the lowest
//   place = 3                       1 to 100, from the manuals outwards (tabs: from the left)
//   midi = { note = 24, channel = 10 }
//
//   [[coupler]]                     keys of one division play another (or itself an octave off) too
//   name = "Swell to Great"
//   played-on = "Great"
//   sounds = "Swell"
//   semitones = 0                   -12, 0 or 12
//   side, row, place, midi          as for stops
//
//   [[tremulant]]
//   name = "Swell Tremulant"
//   division = "Swell"
//   rate = 6                        Hz, 2 to 10
//   depth = 8                       cents either way, 0 to 50
//   side, row, place, midi          as for stops
//
//   [[piston]]
//   name = "Great 1"
//   by = "thumb"                    "thumb" (if left out) or "toe"
//   division = "Great"              the rest of which goes in; left out: a general, of all stops
//   stops = ["Great Open Diapason 8"]
//   couplers = []
//   midi = { program = 1, channel = 10 }
//
//   [crescendo]                     a pedal that adds stops and couplers in this order
//   stages = [["Great Stopped Diapason 8"], ["Great Principal 4", "Swell to Great"]]   1 to 60
//   control = 4                     its controller, 0 to 127, and its channel; both left out where
//   channel = 1                     it sends nothing
//
//   [split]                         a plain keyboard with one channel
//   key = "C3"                      the lowest key of the upper part
//   channel = 1
//   below = "Pedal"
//   above = "Manual"
//
// `midi` of a stop, coupler, tremulant or piston is one of
//   { note = 24, channel = 10 }                     note on draws, note off pushes in
//   { control = 20, channel = 1, on = 127, off = 0 }   values 0 to 127, these if left out
//   { nrpn = 1025, channel = 1, on = 127, off = 0 }    0 to 16383
//   { program = 4, off-program = 5, channel = 10 }     0 to 127
//   { sysex = "F0 7D 01 01 F7", off-sysex = "F0 7D 01 00 F7" }   bytes in hexadecimal, 3 to 64
//
// Errors: not TOML, unknown keys (with the nearest known one), values out of range, names that are
// not there (with the nearest), names used twice, a split between divisions that are not there;
// each with file and line. At most 20 divisions and 500 of everything else.
[[nodiscard]] Result<Organ> read_organ(const std::string& path);
// The same from a text; `name` is the file's name for messages.
[[nodiscard]] Result<Organ> parse_organ(std::string_view text, const std::string& name);

// "C4" -> 60, "F#4" or "f#4" -> 66, "Bb3" -> 58, "60" -> 60; none if it is no key from 0 to 127.
[[nodiscard]] std::optional<int> key_from_text(std::string_view text);
// The same the other way: 36 -> "C2", 66 -> "F#4".
[[nodiscard]] std::string key_text(int key);

// "2 2/3" -> 2.6667, "8'" -> 8; none if it is no foot pitch from 1/8 to 128.
[[nodiscard]] std::optional<double> feet_from_text(std::string_view text);

}  // namespace loftbeat::organ
