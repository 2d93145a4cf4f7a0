#pragma once

#include <vector>

#include "follow/lattice.h"
#include "plan/route.h"
#include "take/take.h"

namespace loftbeat::follow {

// Played notes as the model hears them: which is the highest of its moment, and before which
// nothing had sounded for `closes_run`.
[[nodiscard]] std::vector<Heard> hear_notes(const take::CleanTake& take, Nanoseconds closes_run);

// Keys in which the tune may have been played: 0 and what the route plans, and each further
// transposition (a tritone either way) whose pitches fit some stretch of about a verse's notes
// plainly better than the written key does. Found by comparing how often each key is struck there
// with how often the score has it.
[[nodiscard]] std::vector<int> likely_layers(const music::Score& score, const plan::Route& route,
                                             const std::vector<Heard>& notes);

// The natural and the planned jumps: from the end of the tune to its start, and along the route.
[[nodiscard]] std::vector<Link> planned_links(const OnsetTable& table, const plan::Route& route);

// Silence of that length closes a run: 8 quarters at the set speed; a verse that the people sing
// alone does not close it.
[[nodiscard]] Nanoseconds closing_silence(const music::Score& score, const plan::Route& route,
                                          double ns_per_tick);

}  // namespace loftbeat::follow
