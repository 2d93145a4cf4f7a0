#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "room/church.h"

namespace loftbeat::room {

// The church file, `*.church.toml`:
//
//   name = "St Example"            # optional
//   volume = 3600                  # m3, 50 to 500000
//   temperature = 20               # C, -20 to 50; 20 if left out
//   humidity = 50                  # percent, 5 to 100; 50 if left out
//
//   [[surface]]                    # one for each kind of wall, window, floor, ceiling; no pews
//   name = "walls"                 # optional
//   material = "plaster-on-brick"  # of the built-in table or of this file
//   area = 1140                    # m2
//
//   [[pews]]                       # at least one; chairs and benches alike
//   area = 200                     # m2 of floor, with the narrow aisles between the rows
//   seats = 300
//   empty = "pews-empty"           # material; this one if left out
//   full = "pews-occupied"         # material with all seats taken, counts only by area
//
//   [people]                       # optional
//   expected = 150                 # 0 to 10000; 0 if left out
//   absorb = "standing"            # "standing", "seated" or "by-area"; standing if left out
//
//   [singing]                      # optional
//   effort = "raised"              # "normal", "raised", "loud" or "shout"
//   voice-directivity = 2.5        # dB, 0 to 6
//
//   [distance]                     # m, optional; how far sound goes straight
//   organ-to-people = 12
//   organ-to-player = 3
//   people-to-player = 10
//
//   [organ]                        # optional
//   directivity = 1                # Q towards the people, 0.1 to 10
//
//   [material.oak-screen]          # optional: surfaces that the table lacks
//   absorption = [0.1, 0.08, 0.06, 0.06, 0.06, 0.06]  # 125 Hz to 4 kHz, a seventh for 8 kHz
//   source = "measured by ..."     # required, so that a figure can be traced
//
// Errors: not TOML, unknown keys (with the nearest known one), values out of range, a material that
// is not there, a person's absorption given to a surface; each with file and line.
[[nodiscard]] Result<Church> read_church(const std::string& path);
// The same from a text; `name` is the file's name for messages.
[[nodiscard]] Result<Church> parse_church(std::string_view text, const std::string& name);

}  // namespace loftbeat::room
