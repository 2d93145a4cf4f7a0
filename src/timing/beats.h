#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/base.h"
#include "follow/alignment.h"
#include "music/score.h"

namespace loftbeat::timing {

// Beats of one pass along the way it takes through the score.

// Where a pass goes: its stretches of score in playing order, laid end to end. A place on it is
// counted in beats from the pass's begin. Worked number: stretches [0, 4) and [12, 16) quarters,
// quarter beats: the score's quarter 13 lies at 5.
class PassWay {
 public:
  PassWay(const follow::AlignedPass& pass, Tick beat);

  // Place of `tick` within stretch number `stretch`. Both must belong together.
  [[nodiscard]] double place(std::size_t stretch, Tick tick) const;
  // First stretch from `from` on that holds `tick`; a stretch's end belongs to it if nothing
  // follows.
  [[nodiscard]] std::optional<std::size_t> stretch_of(Tick tick, std::size_t from = 0) const;
  // stretch_of and place in one; nothing where the pass does not go.
  [[nodiscard]] std::optional<double> place_of(Tick tick) const;
  [[nodiscard]] const std::vector<TickSpan>& stretches() const { return stretches_; }
  [[nodiscard]] Tick beat() const { return beat_; }
  [[nodiscard]] double length() const;

 private:
  std::vector<TickSpan> stretches_;
  std::vector<double> begins_;  // in beats
  Tick beat_;
};

// An onset of the score that was struck. `t` is the median onset in seconds.
struct StruckPlace {
  double x = 0;
  double t = 0;
  Tick tick = 0;
};

// Struck onsets in playing order; those off the pass's way are left out. By tick as the follower
// gives them, by time where the way does not run upwards through the score.
[[nodiscard]] std::vector<StruckPlace> struck_places(const follow::AlignedPass& pass,
                                                     const PassWay& way);

// A beat of the bar lines' grid. Beats of a pickup bar count back from its end.
struct GridBeat {
  double x = 0;
  Tick tick = 0;
  std::optional<double> t;  // seconds; nothing before the first and after the last struck onset
  bool struck = false;      // false: `t` is interpolated between the neighbouring struck onsets
};

// All beats of the way from the first struck onset to the last. Worked number: onsets struck at
// beats 0 and 2 at 1.0 s and 2.2 s: beat 1 gets 1.6 s and struck = false.
[[nodiscard]] std::vector<GridBeat> beat_grid(const music::Score& score, const PassWay& way,
                                              const std::vector<StruckPlace>& struck);

// Place of the first bar line of the way from which a full bar runs: the drift's anchor. Nothing
// if the way ends before one.
[[nodiscard]] std::optional<double> first_full_bar(const music::Score& score, const PassWay& way);

}  // namespace loftbeat::timing
