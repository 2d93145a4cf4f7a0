#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/base.h"

namespace loftbeat::music {

// A piece may not unfold to more bars than this.
inline constexpr std::size_t kMaxPlayedBars = 100'000;

// What stands at one written bar and says which bar comes next. Labels pair a jump with its
// target; an unnamed sign has the label "-", no sign the empty string.
struct RepeatSigns {
  bool forward = false;       // a repeat begins at its left bar line
  int backward = 0;           // times played in all, by the sign at its right bar line; 0 = none
  std::vector<int> ending;    // numbers of the ending that begins here
  bool ending_stops = false;  // the ending stops at its right bar line
  std::string segno;          // target of dal_segno, at its left bar line
  std::string coda;           // target of to_coda, at its left bar line
  std::string to_coda;        // left for the coda after it, once a jump back was taken
  std::string dal_segno;      // back to the segno after it
  bool da_capo = false;       // back to the start after it
  bool fine = false;          // ends after it, once a jump back was taken
};

// Adds the signs of another part, or of another place in the bar, to those of the same bar. Where
// both state one thing differently, `into` has it.
void merge_signs(RepeatSigns& into, const RepeatSigns& from);

// One bar as played.
struct PlayedBar {
  std::size_t written = 0;  // which bar of the file, from 0
  int time = 1;             // how often its repeat has been gone through, from 1
  friend bool operator==(const PlayedBar&, const PlayedBar&) = default;
};

// Lays repeats, endings and jumps out in the order of playing. Common practice, no source: a
// repeat without a begin goes back to the end of the repeat before it, or to the start; after
// D.C. or D.S. repeats are not taken again and the last ending is played; the first D.C. or D.S.
// reached is the only one taken. A jump acts at the end of its bar, wherever in the bar it stands.
//
// Example: |: 0 | 1 (1.) :| 2 (2.) |  plays 0 1 0 2.
//
// A jump without its target is passed over. Error (too_large): more than `max_bars` bars.
[[nodiscard]] Result<std::vector<PlayedBar>> play_order(const std::vector<RepeatSigns>& bars,
                                                        std::size_t max_bars = kMaxPlayedBars);

}  // namespace loftbeat::music
