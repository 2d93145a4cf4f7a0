#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "organ/instrument.h"

namespace loftbeat::organ {

// An organ typed in one line, for one that no file describes:
//
//   Great: Open Diapason 8, Principal 4, Fifteenth 2, Mixture III; Swell: Gedackt 8, Oboe 8;
//   Pedal: Bourdon 16; Couplers: Swell to Great, Great to Pedal
//
// Divisions stand between semicolons (or line ends), each with its name and a colon; its stops
// between commas, each with its pitch at the end: 8, 8', 8 ft, 2 2/3, 2-2/3, and Roman numerals or
// "3 ranks" for a mixture. A family is guessed from the name (family_guess.h) or said in brackets:
// "Keraulophon 8 (string)". Of "Couplers" (may be left out) each is "A to B": played on B, sounds
// A.
//
// What a line cannot say is assumed, and told by `assumed`:
//   - the pedal is the division whose name has "pedal" in it; the Swell is enclosed (and whatever
//     begins with "Swell");
//   - stops of the Pedal and the Swell are on the left jamb, all others on the right; each
//     division begins a row of its own, lowest first, five knobs a row in the order written;
//     couplers stand behind the stops of the division that they are played on;
//   - compass C2 to C7, in the pedal C2 to G4; no pistons, no tremulants, no MIDI.
// All of it is common practice, no source.

struct ListedStop {
  std::size_t stop = 0;  // index
  Family other = Family::principal;
};
struct ListedOrgan {
  Organ organ;                     // file is "--stop-list"
  std::vector<ListedStop> either;  // whose family was guessed from a name that may mean another
};

// Errors (file "--stop-list", line 1 and up, column in characters from 1): no division, no pitch, a
// pitch that no stop has, a name of which no family is known (with the nearest), two of one name,
// a coupler of divisions that are not there. At most 20,000 bytes, 20 divisions, 500 stops.
[[nodiscard]] Result<ListedOrgan> parse_stop_list(std::string_view text);

// What was assumed, as sentences; the last tell each stop in `either`.
[[nodiscard]] std::vector<std::string> assumed(const ListedOrgan& listed);

}  // namespace loftbeat::organ
