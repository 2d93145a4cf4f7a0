#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "organ/family.h"

namespace loftbeat::organ {

// An organ as its file describes it (keys in organ/read.h). Other values refer to divisions, stops,
// couplers, tremulants and pistons by their index here. All values; copy them freely, read them
// from any thread.

// Where a control is found: the left or the right jamb, or a row of tabs above the manuals.
enum class Side { unknown, left, right, above };
struct Location {
  Side side = Side::unknown;
  int row = 0;  // from 1, the lowest; 0 = not said
  int place =
      0;  // from 1, the one nearest the manuals (on a row of tabs: the leftmost); 0 = not said
  friend bool operator==(const Location&, const Location&) = default;
};

// What a control sends when it goes on and off, and is told in turn.
struct MidiMapping {
  enum class Kind {
    none,
    note,       // note on = on, note off = off
    control,    // controller `number`: `on_value` or more = on, `off_value` or less = off
    nrpn,       // the same of a non-registered parameter, 0 to 16383, value by data entry MSB
    program,    // program `number` = on, program `off_number` = off (-1: pistons have no off)
    exclusive,  // the very bytes, F0 to F7
  };
  Kind kind = Kind::none;
  int channel = 1;  // 1 to 16; not for exclusive
  int number = 0;
  int off_number = -1;
  int on_value = 127;
  int off_value = 0;
  std::string on_bytes;
  std::string off_bytes;  // empty: never sent
  friend bool operator==(const MidiMapping&, const MidiMapping&) = default;
};

// Shutters round a division. Position 0 is shut, 1 open (organ/swell_box.h has the curve).
struct SwellBox {
  double closed_db = -12;   // level when shut, -40 to 0 (common practice, no source)
  double closed_hz = 1500;  // low-pass when shut, 200 to 20000 (common practice, no source)
  int control = 11;         // controller of the swell pedal on the division's channel
  friend bool operator==(const SwellBox&, const SwellBox&) = default;
};

struct Division {
  std::string name;
  enum class Kind { manual, pedal } kind = Kind::manual;
  int lowest_key = 36;  // MIDI keys, both played
  int highest_key = 96;
  int channel = 0;  // 1 to 16; 0: sends nothing of its own (see Split)
  std::optional<SwellBox> box;

  [[nodiscard]] bool has_key(int key) const { return key >= lowest_key && key <= highest_key; }
};

struct Stop {
  std::string name;          // as engraved, without foot pitch: "Open Diapason"
  std::size_t division = 0;  // index
  std::string pitch;         // as engraved: "8", "2 2/3", or Roman numerals of a mixture, "IV"
  double feet = 8;           // 2 2/3 -> 2.6667; 0 for a mixture
  Family family = Family::principal;
  // Which rank of pipes speaks, by the name that pipe recipes give it. Whether there is such a rank
  // is not known here. Where the rank's own foot pitch is another, it is played so many octaves
  // higher or lower (a 2' stop on a 4' rank: an octave higher), see octaves_up.
  std::string rank;
  double power_db = 0;  // louder (+) or softer (-) than the rank is by itself, -20 to 20
  Location location;
  MidiMapping midi;
};

// While drawn, keys of `played_on` also play the stops of `sounds`, shifted. "Swell to Great":
// played on the Great, sounds the Swell. Couplers do not chain: a key coupled down from the Swell
// is not coupled on to the Pedal.
struct Coupler {
  std::string name;
  std::size_t played_on = 0;  // division index
  std::size_t sounds = 0;     // division index; the same one for octave couplers
  int semitones = 0;          // -12, 0 or 12
  Location location;
  MidiMapping midi;
};

// A wavering of the wind of one division.
struct Tremulant {
  std::string name;
  std::size_t division = 0;
  double rate_hz = 6;      // 2 to 10 (common practice, no source)
  double depth_cents = 8;  // either way, 0 to 50 (common practice, no source)
  Location location;
  MidiMapping midi;
};

// A button that draws its set and pushes in all else of its division (or of the whole organ).
struct Piston {
  std::string name;
  enum class By { thumb, toe } by = By::thumb;
  std::optional<std::size_t> division;  // none: a general piston
  std::vector<std::size_t> stops;       // sorted
  std::vector<std::size_t> couplers;    // sorted
  MidiMapping midi;
};

// A pedal that adds stops and couplers in a fixed order, whatever is drawn by hand; no knob moves.
// Position 0 adds nothing, position n all of stages 1 to n.
struct Crescendo {
  struct Stage {
    std::vector<std::size_t> stops;     // sorted
    std::vector<std::size_t> couplers;  // sorted
    friend bool operator==(const Stage&, const Stage&) = default;
  };
  std::vector<Stage> stages;  // at least one
  int channel = 0;            // 1 to 16; 0: sends nothing
  int control = 0;            // controller: 0 is position 0, 127 the last, evenly between
  friend bool operator==(const Crescendo&, const Crescendo&) = default;
  [[nodiscard]] int last() const { return static_cast<int>(stages.size()); }
};

// A plain keyboard with one channel: keys below `key` play one division, the others another.
struct Split {
  int key = 48;  // the lowest key of the upper part
  int channel = 1;
  std::size_t below = 0;  // division index, the pedal as a rule
  std::size_t above = 0;
};

struct Organ {
  std::string name;
  std::string file;     // for messages
  double power_db = 0;  // on every stop, -20 to 20: a mild or a bold organ
  std::vector<Division> divisions;
  std::vector<Stop> stops;
  std::vector<Coupler> couplers;
  std::vector<Tremulant> tremulants;
  std::vector<Piston> pistons;
  std::optional<Crescendo> crescendo;
  std::optional<Split> split;
};

// "Great Open Diapason 8", as plans write it and screens show it.
[[nodiscard]] std::string full_name(const Organ& organ, const Stop& stop);

// The division that a key of a MIDI channel (1 to 16) plays: by the split if it is of that channel,
// else the first division of that channel; none if there is none or its compass lacks the key.
[[nodiscard]] std::optional<std::size_t> division_of(const Organ& organ, int channel, int key);

// A rank name for stops that state none: "principal-8", "open-flute-4", "mixture-iv".
[[nodiscard]] std::string usual_rank(Family family, const std::string& pitch);

// By how many octaves a rank of `rank_feet` is played higher for a stop of `stop_feet`.
// Example: 4' rank, 2' stop -> 1. Mixtures and equal pitches give 0; none where the two are not
// whole octaves apart (a 2 2/3' stop cannot borrow a 4' rank).
[[nodiscard]] std::optional<int> octaves_up(double stop_feet, double rank_feet);

}  // namespace loftbeat::organ
