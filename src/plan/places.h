#pragma once

// Private to plan/: from printed places and phrase numbers to score time.

#include <string>
#include <vector>

#include "music/score.h"
#include "plan/plan.h"

namespace loftbeat::plan {

// Length of a full bar of this bar's metre. Example: 6/8 -> 30240 ticks.
[[nodiscard]] Tick full_length(const music::Bar& bar);

// Where `at` lies within its bar's metre, from the bar line on; a pickup bar counts back from its
// end. Example: 4/4, the crotchet of a pickup bar -> 30240 (three beats after the bar line).
[[nodiscard]] Tick place_in_metre(const music::Score& score, Tick at);

// Every time the place occurs in the score as played (repeats unfolded), in order. Errors: no
// such bar, or no such beat in it; they name `plan_file` and the place's line.
[[nodiscard]] Result<std::vector<Tick>> find_place(const music::Score& score, BeatUnit beat,
                                                   const Place& place,
                                                   const std::string& plan_file);

// The plan's phrases if it states any (the first begins with the score), else the score's.
[[nodiscard]] Result<std::vector<music::Phrase>> find_phrases(const Plan& plan,
                                                              const music::Score& score);

// Fermatas that are held or free, from the score's signs and the plan's rules. The sign over the
// last chord is left out: how long that sounds is the join's matter.
struct HoldRule {
  Tick at = 0;
  FermataRule rule;
};
[[nodiscard]] Result<std::vector<HoldRule>> find_holds(const Plan& plan, const music::Score& score);

// Onset of the last note that begins inside `span`, or of the first; -1 if none does.
[[nodiscard]] Tick last_onset_in(const music::Score& score, TickSpan span);
[[nodiscard]] Tick first_onset_in(const music::Score& score, TickSpan span);

// An error about the plan.
[[nodiscard]] Error plan_error(const std::string& plan_file, int line, std::string message,
                               std::string hint = {});

}  // namespace loftbeat::plan
