#pragma once

#include <string>
#include <vector>

#include "live/rt/metronome.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::live {

// How a metronome goes with a practice.
enum class ClickMode {
  off,
  count_in,  // until the first note is due
  always,
  rests,  // sounds some bars, rests some, and so on
};
[[nodiscard]] std::string click_mode_word(ClickMode mode);  // "count-in"

// One beat of the plan, at the set tempo.
struct PlannedBeat {
  double seconds = 0;   // from the first note that is due, negative while counting in
  int pass = -1;        // index into Route::passes; -1: counting in; between passes the pass before
  Tick tick = -1;       // in the score; -1 between passes and while counting in
  std::string bar;      // as printed; empty where tick is -1
  int beat_of_bar = 1;  // from 1
  bool clicks = true;   // by the mode
};

struct ClickTrack {
  std::vector<PlannedBeat> beats;  // in order
  double count_in_seconds = 0;     // from the first click to the first note
  double seconds = 0;              // from the first note to the end of the last pass
  double beat_seconds = 0;
};

struct ClickOrder {
  const plan::Plan* plan = nullptr;  // none of these may be null
  const music::Score* score = nullptr;
  const plan::Route* route = nullptr;
  double tempo_bpm = 0;  // > 0, beats of the plan
  ClickMode mode = ClickMode::count_in;
  int count_in_bars = 1;  // 0 to 4
  int sounding_bars = 2;  // of ClickMode::rests, 1 to 16
  int resting_bars = 2;
};

// The beats of a plan as a metronome counts them: all beats of the bar lines, through joins and
// silent verses too, with holds, breaths and broadening as planned. A beat that would fall less
// than half a beat before the next pass begins is left out: the new pass counts from its own.
//
// The count-in is so many whole bars, and, with an upbeat, what is missing of the upbeat's bar:
// in 4/4 with an upbeat crotchet, one bar: 1 2 3 4 1 2 3, then the upbeat.
// Bars of `rests` count from the first whole bar of each pass, which begins sounding.
[[nodiscard]] ClickTrack click_track(const ClickOrder& order);

// What of it is heard, in frames from the first click of the count-in (or the first note).
[[nodiscard]] std::vector<rt::ClickAt> clicks_of(const ClickTrack& track, double sample_rate);

}  // namespace loftbeat::live
