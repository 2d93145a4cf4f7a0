#pragma once

#include <string>
#include <vector>

#include "music/score.h"
#include "music/smf_file.h"

namespace loftbeat::music {

// A time signature of a file.
struct SmfMetre {
  Tick at = 0;
  int beats = 4;
  int beat_type = 4;
  [[nodiscard]] Tick bar() const { return 4 * kTicksPerQuarter * beats / beat_type; }
};

// What a file says beside its notes, in score time.
struct SmfScoreMeta {
  std::string title;
  Score heading;                 // of which tune and poetic_metre are used
  std::vector<SmfMetre> metres;  // by time, one at each tick; the first at 0 (4/4 if unsaid)
  std::vector<KeyMark> keys;
  std::vector<TempoMark> tempi;   // changes only
  std::vector<Tick> lyric_lines;  // where a line of the text ended
  bool lyrics = false;
  std::vector<Syllable> words;  // of the first track that has any
  std::size_t odd_events = 0;   // time and key signatures that make no sense, left out
};

// Meta events after `last` (file ticks) are left out.
[[nodiscard]] SmfScoreMeta smf_score_meta(const SmfFile& file, std::int64_t ticks_per_quarter,
                                          std::int64_t last);

}  // namespace loftbeat::music
