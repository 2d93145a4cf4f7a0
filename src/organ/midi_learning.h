#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "organ/instrument.h"
#include "take/take.h"

namespace loftbeat::organ {

// What a control sends, found by moving it.

enum class LearnedFor {
  two_ways,  // a stop, coupler or tremulant: drawn and pushed in
  press,     // a piston
};

// The mapping by which the messages of `on` (drawn, pressed) and of `off` (pushed in; not read for
// a piston) mean one and the other. Keys played meanwhile, pedals and whatever else came in both
// with the same contents are passed over. Exactly one control may have moved.
//
// Errors (no_fit, with what to do): nothing came; nothing that tells drawn from pushed in (a button
// that sends one message for both); more than one control moved.
// Worked example: on B0 50 7F, off B0 50 00: controller 80 of channel 1, on 127, off 0.
[[nodiscard]] Result<MidiMapping> learned_mapping(const std::vector<take::Event>& on,
                                                  const std::vector<take::Event>& off,
                                                  LearnedFor what);

// As the organ file writes it: { control = 80, channel = 1, on = 127, off = 0 }.
[[nodiscard]] std::string format_mapping(const MidiMapping& mapping);

// Which control of an organ file: the number of its table among those of its kind.
struct ControlPlace {
  enum class Kind { stop, coupler, tremulant, piston } kind = Kind::stop;
  std::size_t index = 0;
  MidiMapping midi;
};
// The text of an organ file with these mappings put in place of what it says, everything else as it
// was, comments too. Errors: what the reader says of the outcome, and if it reads otherwise than
// meant; `name` for messages.
[[nodiscard]] Result<std::string> with_mappings(std::string_view text, const std::string& name,
                                                const std::vector<ControlPlace>& places);

}  // namespace loftbeat::organ
