#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advise/console_map.h"
#include "advise/player_times.h"
#include "advise/stop_events.h"
#include "base/measured.h"
#include "follow/alignment.h"
#include "plan/plan.h"
#include "timing/stop_moves.h"

namespace loftbeat::advise {

// What became of the stop moves of a take, join by join. Pure; any thread.

enum class StopVerdict {
  clean,
  heard_in_the_chord,  // a division that sounded, by its own keys or coupled, changed
  cost_the_beat,       // late, and the hand cannot have been back by the planned entry
  after_the_beat,      // the stops went after the next pass had begun
  left_out,            // the plan moves stops here, and nothing moved
};
enum class MoveWhen { none, before, after };

// One movement, or its lack, as far as the verdict goes.
struct MoveFacts {
  MoveWhen when = MoveWhen::none;
  bool planned = false;     // the plan changes stops at this join
  bool heard = false;       // for before
  bool past_entry = false;  // for before: the move plus the hand's return ended after the entry
};
// How the join went. Too long: longer than planned, or than the first where none is planned; it
// tells the two ways of being unlike apart.
struct JoinOutcome {
  timing::JoinVerdict verdict = timing::JoinVerdict::cannot_tell;
  bool too_long = false;
};
struct StopJudgement {
  StopVerdict verdict = StopVerdict::clean;
  bool fault = false;
  friend bool operator==(const StopJudgement&, const StopJudgement&) = default;
};

// The table, a fault marked with "!". Nothing for a join at which nothing moved and nothing was
// planned to.
//
//                before the entry,                          after the   none, though
//                neither      heard        past the entry   entry       planned
//   in time      clean        heard !      clean            after       left out
//   alike        clean        heard !      clean            after       left out
//   cannot tell  clean        heard !      clean            after       left out
//   early        clean        heard !      clean            after       left out !
//   late         clean        heard !      cost the beat !  after       left out !
//   miscounted   clean        heard !      clean            after       left out !
//   unlike       clean        heard !      longer: cost     after       left out !
//
// Heard comes before cost: it is certain, while the way back is reckoned. After the beat is a fault
// where the plan moves stops at this join; elsewhere the player may have meant it. A join that came
// in time shows that the hand was back, whatever the tables say. Whole beats too many are a slip of
// the count, as in joins.h: whoever waits for a hand loses the pulse.
[[nodiscard]] std::optional<StopJudgement> judge_stop_move(const JoinOutcome& join,
                                                           const MoveFacts& facts);

// One movement at a join, or the lack of one.
struct JudgedMove {
  int join = 0;  // index into Timing::joins
  MoveWhen when = MoveWhen::none;
  double first_s = 0;  // from the start of the take; 0 for none
  double last_s = 0;
  std::string controls;           // in words; empty where they are not known
  Measured<StopVerdict> verdict;  // unknown: a mark in the chord that does not say what changed
  bool fault = false;
  Measured<double> after_release_ms;  // last message against the last key's release; + = after it
  Measured<double> return_s;          // reckoned way back to the keys, with the player's own factor
  Measured<double> past_entry_ms;     // move plus return against the planned entry; + = too late
};

struct StopReview {
  bool known = false;
  std::string reason = "no organ is named";  // while not known
  std::vector<JudgedMove> moves;             // by join, then by time
  int elsewhere = 0;                         // movements that belong to no join
  timing::MoveComparison comparison;
  std::vector<Notice> notices;
};

// What is judged. All must outlive the call.
struct StopQuestion {
  const ConsoleMap& console;
  const plan::Plan& plan;
  const take::Take& raw;  // with its messages
  const take::CleanTake& take;
  const follow::Alignment& alignment;
  const std::vector<timing::JoinMeasures>& joins;
  PlayerTimes player = {};
};

// Before the first pass the plan's stops are taken as drawn; from then on what the take moves.
// The entry is the planned one; where no join is planned, the one that would have been like the
// first verse join. The hand's return: from the control that went last (a piston: none, the thumb
// is at the keys; a bare mark: the nearest control) by the tables of motion_times.h. Within the
// uncertainty of the stamps nothing is heard and nothing late. Worked number: a knob 45.9 cm from
// the hand goes 0.4 s before the planned entry: back in 0.56 s, 160 ms too late; if the join was
// late, the move cost the beat.
[[nodiscard]] StopReview review_stops(const StopQuestion& question);

// What the plan draws in a pass as it was found. Errors: stops that the organ does not have.
[[nodiscard]] Result<organ::Registration> planned_in(const organ::Organ& organ,
                                                     const plan::Plan& plan,
                                                     const follow::AlignedPass& pass);

}  // namespace loftbeat::advise
