#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/base.h"
#include "music/score.h"

namespace loftbeat::music {

// Standard MIDI File 1.0 (RP-001) as it stands in the file: the common ground of scores and takes.

// 128 bits: ticks times microseconds of a hostile file do not fit into 64.
__extension__ using Wide = __int128;

// One event of a track. For a channel message `status` is 0x80..0xEF and `data` its one or two
// data bytes; for a meta event `status` is 0xFF, `meta` its type; for system exclusive `status`
// is 0xF0 or 0xF7 and `data` what follows the length.
struct SmfEvent {
  std::int64_t ticks = 0;  // from the start of the track, in file ticks
  std::uint8_t status = 0;
  std::uint8_t meta = 0;
  std::string data;  // bytes
};

struct SmfTrack {
  std::vector<SmfEvent> events;
  bool truncated = false;  // the file ended, or the track broke off, before its end-of-track event
};

struct SmfFile {
  int format = 1;               // 0 or 1 (2 is refused)
  bool smpte = false;           // division given in frames a second
  int ticks_per_quarter = 480;  // > 0 when !smpte
  double ticks_per_second = 0;  // > 0 when smpte
  std::vector<SmfTrack> tracks;
  std::vector<Notice> notices;  // unknown chunks passed over, truncated tracks, dropped bytes
};

// Reads the bytes of a file. Damaged tails are dropped with a notice that says how many bytes;
// an error is returned only if nothing usable was found or a limit is exceeded. `name` is for
// messages. At most kMaxNotes note events are kept.
[[nodiscard]] Result<SmfFile> parse_smf(std::string_view bytes, const std::string& name);

// Writes format 0 or 1 without running status. Events of a track must be in order of time; an
// end-of-track event is added where it is missing.
[[nodiscard]] std::string format_smf(const SmfFile& file);

// Turns file ticks into nanoseconds from the start by the tempo map of all tracks (120 to the
// minute until the first tempo event). Computed in whole numbers and rounded once, so it is exact
// to the nanosecond however many tempo events there are; beyond 146 years it stands still.
// Worked example: division 480, no tempo event: tick 480 -> 0.5 s, tick 1 -> 1041667 ns.
class SmfClock {
 public:
  explicit SmfClock(const SmfFile& file);
  [[nodiscard]] Instant instant(std::int64_t ticks) const;

 private:
  struct Stretch {
    std::int64_t ticks = 0;         // where it begins
    std::int64_t microseconds = 0;  // per quarter
    Wide begin = 0;                 // when, in microseconds times ticks_per_quarter_
  };
  std::vector<Stretch> stretches_;
  double ns_per_tick_smpte_ = 0;  // > 0 when the division is in frames
  std::int64_t ticks_per_quarter_ = 480;
};

}  // namespace loftbeat::music
