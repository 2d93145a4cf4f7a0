#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/time.h"
#include "music/score.h"
#include "plan/route.h"

namespace loftbeat::crowd {

// What people sing in one pass: the tune (the topmost voice), laid out along the pass's way. A
// place on the way is counted in beats from its begin; the stretches of a pass lie end to end.
// Worked number: spans [0, 4) and [12, 16) quarters, quarter beats: the score's quarter 13 is at 5.

struct SungNote {
  double at = 0;        // beats
  double end = 0;       // beats
  int pitch = 60;       // as sung: the pass's transposition is in it
  bool breath = false;  // the last of its phrase: breath is taken from its end
};

// A place at which people and organ are compared: the beats of the bars; where the way begins,
// where phrases begin and where held notes end also.
struct Knot {
  double at = 0;  // beats
  Tick tick = 0;
  bool beat = false;    // on a beat of the bar
  bool phrase = false;  // a phrase begins here: who has fallen out comes in again
};

struct SungPass {
  std::vector<SungNote> notes;    // in order, without overlap
  std::vector<Knot> knots;        // in order, the first at 0
  std::vector<double> onsets;     // where the organ strikes anything
  std::vector<double> hold_ends;  // a held note ends here: people wait for the organ
  std::vector<TickSpan> spans;
  Tick beat_ticks = kTicksPerQuarter;
  double length = 0;  // beats

  // The place of a score tick, the one nearest to `near` if the way comes by twice; nothing where
  // it does not come.
  [[nodiscard]] std::optional<double> place_of(Tick tick, double near) const;
  // The first onset of the organ after `at`; the length if there is none.
  [[nodiscard]] double onset_after(double at) const;
};

// Whether two phrases of the tune that begin there are alike, note by note: who hears only these
// cannot tell which it is. Phrases as the route has them, or else the score.
[[nodiscard]] bool alike(const music::Score& score, const plan::Route& route, Tick phrase,
                         Tick other);

// Requires the spans of the pass inside the score.
[[nodiscard]] SungPass sung_pass(const music::Score& score, const plan::Route& route,
                                 const plan::RoutePass& pass, plan::BeatUnit beat);

}  // namespace loftbeat::crowd
