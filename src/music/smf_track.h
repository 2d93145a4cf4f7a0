#pragma once

#include <cstddef>
#include <string_view>

#include "music/smf_file.h"

namespace loftbeat::music {

// How much of a file was read and how much was put up with, summed over its tracks.
struct SmfTally {
  std::size_t events = 0;
  std::size_t notes = 0;            // note-ons with a velocity above 0
  std::size_t stray_bytes = 0;      // data bytes without a status
  std::size_t broken_messages = 0;  // channel messages whose data bytes were no data bytes
  std::size_t system_messages = 0;  // real-time and system common bytes, which SMF does not have
  std::size_t odd_tempi = 0;        // tempo events of 0, or of another size than 3 bytes
  bool too_many_notes = false;      // more than kMaxNotes
  bool too_many_events = false;     // more than kMaxSmfEvents
};

// A file of 64 MB could hold 32 million events; at 48 bytes each this is where we stop.
inline constexpr std::size_t kMaxSmfEvents = 4 * kMaxNotes;

struct TrackRead {
  SmfTrack track;
  std::size_t dropped_bytes = 0;  // a tail that could not be read
  std::size_t unused_bytes = 0;   // after the end-of-track event
};

// Reads the inside of one MTrk chunk. Stops at the end-of-track event, at the first place that
// cannot be made sense of, or when a limit is reached (`tally` says so).
[[nodiscard]] TrackRead read_smf_track(std::string_view bytes, SmfTally& tally);

}  // namespace loftbeat::music
