#pragma once

#include <vector>

#include "music/smf_file.h"

namespace loftbeat::music {

// 120 quarter notes to the minute until the file says otherwise (RP-001).
inline constexpr std::int64_t kDefaultTempoMicroseconds = 500'000;

// One tempo event: from `ticks` on a quarter note lasts so many microseconds (1 to 16777215).
struct SmfTempo {
  std::int64_t ticks = 0;
  std::int64_t microseconds = kDefaultTempoMicroseconds;
};

// The usable tempo events of all tracks in order of time; at one tick the later track's comes last.
[[nodiscard]] std::vector<SmfTempo> tempo_map(const SmfFile& file);

}  // namespace loftbeat::music
