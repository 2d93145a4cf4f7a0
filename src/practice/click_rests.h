#pragma once

#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::practice {

// How far a player moved while the metronome was silent.

// One beat as the metronome counted it.
struct CountedBeat {
  int route_pass = 0;   // index into Route::passes
  Tick tick = 0;        // in the score
  double seconds = 0;   // when it was due, on the take's clock
  bool clicked = true;  // it was heard
};

// One stretch without clicks.
struct ClickRest {
  int pass = 0;  // index into Alignment::passes
  std::string from_bar;
  std::string to_bar;
  double moved_ms = 0;  // from the last beat under clicks to the last without: + fell behind
  double beats = 0;     // so many beats apart
};

// `beats` in order of time. Only beats that were struck count, so that a stretch begins and ends at
// the nearest; one with no struck beat before it or in it is left out. Worked number: beats of 1 s;
// the last clicked beat struck 20 ms late, eight beats later the last silent one 180 ms late:
// moved 160 ms over 8 beats.
[[nodiscard]] std::vector<ClickRest> click_rests(const Review& review,
                                                 const std::vector<CountedBeat>& beats);

}  // namespace loftbeat::practice
