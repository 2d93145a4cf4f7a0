#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "organ/organ.h"
#include "voice/performance.h"

namespace loftbeat::voice {

// Stop changes during playback, `*.changes.toml`:
//
//   [[change]]                         one or more, in any order
//   at = 12.5                          seconds from the start, 0 to 86400
//   draw = ["Great Mixture IV"]        optional, so are the others; stops, couplers and tremulants
//   push-in = ["Swell to Great"]       by name
//   swell = 0.5                        all boxes, 0 shut to 1 open
//   swell = { Swell = 0.5 }            or by division
//   piston = "Great 1"
//
// Errors name file and line: unknown keys, names that the organ does not have (with the nearest).
struct StopChange {
  double at_seconds = 0;
  std::vector<organ::ConsoleMove> moves;
};
[[nodiscard]] Result<std::vector<StopChange>> read_stop_changes(const std::string& path,
                                                                const organ::Organ& organ);
[[nodiscard]] Result<std::vector<StopChange>> parse_stop_changes(std::string_view text,
                                                                 const std::string& name,
                                                                 const organ::Organ& organ);

// The performance with the changes made as well. What a piston pushes in is what was drawn by then.
// In a performance of a plan every pass begins with what the plan draws for it, whatever was
// changed in the pass before. Times count from the performance's own start.
[[nodiscard]] Performance with_changes(const Performance& performance, const organ::Organ& organ,
                                       std::vector<StopChange> changes);

}  // namespace loftbeat::voice
