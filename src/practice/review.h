#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advise/stop_verdicts.h"
#include "crowd/who_led.h"
#include "follow/alignment.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"
#include "take/take.h"
#include "timing/measures.h"

namespace loftbeat::practice {

enum class FindingKind {
  tempo_off,  // a pass's tempo against the set tempo
  dragging,   // trend
  rushing,
  unsteady,
  hesitation,
  join_early,
  join_late,
  join_miscounted,
  join_unlike,
  play_over_tempo,  // the play-over promised another tempo than verse 1 had
  play_over_slowing,
  play_over_timid,  // softer than verse 1 where velocity is heard
  feet_late,
  feet_early,
  hands_apart,
  smear,
  repeats_unstruck,
  sustain_pedal,
  ragged_release,
  wrong_notes,  // the same bar in most verses
  missed_notes,
  correction,
  restart,
  texture,           // another texture than planned
  stops_heard,       // stop moves (advise/stop_verdicts.h): in the chord
  stops_cost_beat,   // and the join late for it: stands for join_late
  stops_after_beat,  // after the next pass had begun
  stops_left_out,    // planned, nothing moved, and the join was not in time
};

// One thing that went wrong, with the figure it rests on.
struct Finding {
  FindingKind kind;
  int pass = -1;      // index into Alignment::passes, or -1; of several, the worst
  int join = -1;      // index into Timing::joins, or -1
  std::string bar;    // printed bar, or empty
  double figure = 0;  // in `unit`
  std::string unit;
  double severity = 0;      // figure over its tolerance; 1 = at the tolerance
  int verses_affected = 1;  // same place in so many verses
  std::string sentence;     // what to practise and why, plainly
  // All passes concerned, rising; empty: `pass` alone, or none.
  std::vector<int> passes = {};
  // What else tells faults of one kind apart (the texture played); empty for most kinds.
  std::string detail = {};
};

// Everything one review knows. Values only; report/ turns it into text, page and JSON.
struct Review {
  plan::Plan plan;
  plan::Route route;
  music::Score score;
  take::CleanTake take;
  follow::Alignment alignment;
  timing::Timing timing;
  advise::StopReview stops;          // not known until judge_stops
  std::optional<crowd::WhoLed> led;  // where people sang along; nothing: nobody did
  std::vector<Finding> findings;     // worst first; same place in most verses before all else
  std::vector<std::string> advice;   // at most five sentences, from the findings
  std::vector<Notice> notices;       // of all readers and steps
  std::string take_name;
  int runs = 1;
};

// Measures and judges what is followed already: fills timing, runs, findings and advice from the
// other fields. Pure; linear in the number of notes.
void judge(Review& review);

// Judges the stop moves of what is measured already: fills stops and their notices, and orders
// findings and advice anew. `raw` is the take with its messages. Pure; linear in the number of
// events. Without it stops are not known, for the reason in stops.reason.
void judge_stops(Review& review, const take::Take& raw, const advise::ConsoleMap& console,
                 const advise::PlayerTimes& player = {});

// Who led, the player or the people who sang along as `record` tells. Pure.
void judge_singing(Review& review, const crowd::CrowdRecord& record);

// Follows, measures and judges. Where the plan sets no tempo the score's first mark is used.
// Pure; the same input gives the same review. Errors: no_fit (see follow::align).
[[nodiscard]] Result<Review> review(plan::Plan plan, music::ReadScore score, const take::Take& take,
                                    std::string take_name);

}  // namespace loftbeat::practice
