#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "pipes/rank.h"

namespace loftbeat::pipes {

// Pipe recipes are TOML: a folder of *.toml files, one for each family. Keys:
//
//   source = "..."                  where the figures come from; needed
//   family = "principal"            "principal", "open-flute", "stopped-flute", "string",
//                                   "celeste", "mutation", "mixture", "reed" or "voice"; needed
//   [tone]                          see pipes/tone.h; all of these are optional
//   below = 6.02                    dB an octave up to the corner, 0 to 60
//   corner = 5                      harmonic at middle C, 1 to 40
//   above = 16                      dB an octave beyond, 0 to 60
//   corner-fall = 0.25              -1 to 2
//   even = -24                      dB, -80 to 0
//   even-rise = 1.5                 dB a harmonic, 0 to 20
//   even-most = -6                  dB, -80 to 0
//   formants = [[650, 8, 120]]      Hz, dB, width in Hz; up to 8
//   [speech]
//   seconds = 0.08                  0.005 to 0.5
//   fall = 0.7                      0 to 1
//   upper-late = 0.3                -0.9 to 0.9
//   modes = -24                     dB, -200 to 0
//   stretch = 0.012                 0 to 0.1
//   chiff = 12                      dB, 0 to 40
//   release = 0.25                  s, 0.02 to 2
//   [wind]
//   noise = -45                     dB, -200 to -10
//   corner = 3000                   Hz, 100 to 16000
//   [scatter]
//   cents = 0.7                     0 to 1.5
//   level = 0.5                     dB, 0 to 3
//   [ensemble]
//   voices = 8                      1 to 32
//   spread = 12                     cents, 0 to 30
//
//   [[rank]]                        one or more
//   id = "principal-8"              small letters, digits and hyphens
//   label = "Principal 8"           printable ASCII, at most 19 letters
//   program = 1                     0 to 127, each once in the folder
//   pitch = "8"                     feet, 1/4 to 32; or, of a mixture,
//   steps = [{ from = 24, pitches = ["1 1/3", "1"] }]
//                                   first key of each step, pipes it speaks (1 to 8)
//   power = 92                      dB re 1 pW at middle C, 40 to 115
//   power-per-octave = -2           dB, -12 to 12
//   offset = 9                      cents, -50 to 50
//   tuning = 0.8                    cents, -1.2 to 1.2
//   source, tone, speech, wind, scatter, ensemble
//                                   as above, for this rank alone: what is not said
//                                   here is as the file has it
//
// Errors: no folder, no recipes in it, and whatever is wrong in a file, with file and line.
[[nodiscard]] Result<Recipes> read_recipes(const std::string& folder);

// One file; `name` for messages. Programs and ids are unique in it.
[[nodiscard]] Result<Recipes> parse_recipes(std::string_view text, const std::string& name);

}  // namespace loftbeat::pipes
