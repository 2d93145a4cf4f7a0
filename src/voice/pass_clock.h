#pragma once

// Private to voice/: from score time to seconds within one pass.

#include <vector>

#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::voice {

// Score time to seconds from the start of a pass, at a steady tempo, with the route's holds and
// the pass's broadening. A broadening slows evenly over the beats, from the tempo at its start to
// its percentage at the end of the pass. Worked number: 60 a minute, four beats, the last two
// broadened to 50 %: 2 + 2 * ln 2 / 0.5 = 4.77 s.
class PassClock {
 public:
  // tempo_bpm > 0.
  PassClock(const plan::Route& route, const plan::RoutePass& pass, double tempo_bpm, Tick beat);

  // `at` in [begin, end] of span `span` of the pass. A note that begins where a held one ends
  // begins after the hold.
  [[nodiscard]] double seconds(std::size_t span, Tick at) const;
  // The whole pass.
  [[nodiscard]] double length_seconds() const;
  [[nodiscard]] double beat_seconds() const { return beat_seconds_; }

 private:
  [[nodiscard]] double steady(double beats) const;
  struct Hold {
    double from_beat = 0;  // beats of the pass, holds not counted
    double seconds = 0;
  };
  const plan::RoutePass& pass_;
  double beat_ticks_;
  double beat_seconds_;
  std::vector<double> begins_;  // beats of the pass at which each span begins; one more for the end
  std::vector<Hold> holds_;
  double broaden_from_ = -1;  // beats; < 0: none
};

}  // namespace loftbeat::voice
