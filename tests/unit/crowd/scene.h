#pragma once

#include <functional>
#include <vector>

#include "crowd/people.h"
#include "follow/alignment.h"
#include "follow/live_follower.h"
#include "music/score.h"
#include "plan/route.h"

namespace loftbeat::crowd {

// A tune of plain crotchets in 4/4, as a melody over a bass; set out as a play-over and verses.
struct TuneScene {
  music::Score score;
  plan::Route route;
};
struct TuneForm {
  int bars = 8;
  int phrase_bars = 4;
  int verses = 1;
  bool play_over = false;
};
[[nodiscard]] TuneScene tune_scene(const TuneForm& form);

// One who plays in a simulation: gives the length of the next beat, from what he has heard.
struct Beaten {
  int pass = 0;         // from 0
  int beat = 0;         // of the pass, just struck
  double struck_s = 0;  // when
  double lag_s = 0;     // the people's last beat as he heard it against his own (0: none yet)
};
using NextBeat = std::function<double(const Beaten&)>;

struct Played {
  std::vector<std::vector<double>> struck_s;  // by pass and beat
  follow::Alignment alignment;                // of it
};

// Plays every beat of every pass of the route; joins are two beats more than the last beat's
// length. People are told where he is every `step_s`.
Played play(const TuneScene& scene, People& people, const NextBeat& next, double step_s = 0.01);

// What the follower would say `now_s` after a crotchet was struck.
[[nodiscard]] follow::LivePosition position_of(int pass, int route_pass, Tick onset,
                                               double struck_s, double period_s, double now_s);

// Of one pass, people's beats by beat number; no value: not sung.
[[nodiscard]] std::vector<double> sung_beats(const People& people, int pass, int beats);

}  // namespace loftbeat::crowd
