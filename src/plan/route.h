#pragma once

#include <optional>
#include <string>
#include <vector>

#include "music/score.h"
#include "plan/plan.h"

namespace loftbeat::plan {

// One planned time through the tune.
struct RoutePass {
  std::string label;  // "play-over", "1", "2" ..., "interlude", "amen"
  PassKind kind = PassKind::verse;
  std::vector<TickSpan> spans;  // score time, in playing order; one span for the whole tune
  std::vector<Texture> textures;
  int transpose_semitones = 0;
  bool unaccompanied = false;  // no notes are expected
  std::optional<Tick> broaden_from;  // slowing is meant from here on
  double broaden_percent = 100;
};

// What is planned between route pass i and i + 1.
struct RouteJoin {
  std::optional<Join> join;    // as planned; nothing: judged for likeness only
  // Beats from the onset of the last chord to the first onset of the next pass; nothing where
  // no join is planned or an interlude of any length lies between.
  std::optional<double> span_beats;
  bool after_play_over = false;
  bool with_interlude = false;
};

// A planned lengthening at a place of the score: a fermata held or free.
struct PlannedHold {
  Tick at = 0;              // onset of the note that is held
  Tick until = 0;           // its written end
  FermataKind kind = FermataKind::hold;
  double extra_beats = 0;   // for FermataKind::hold
};

struct Route {
  std::vector<RoutePass> passes;    // empty verses if the plan leaves their number open
  std::vector<RouteJoin> joins;     // passes.size() - 1 (or empty)
  std::vector<PlannedHold> holds;   // sorted by time
  std::vector<music::Phrase> phrases;  // the plan's, or the score's
  bool verses_known = true;         // false: the number of verses is found from the take
  bool play_over_known = true;
};

// Lays the plan over the score. Errors name the plan's file and line: a phrase or bar that the
// score does not have, a join that leaves no room, a verse plan beyond the last verse.
[[nodiscard]] Result<Route> make_route(const Plan& plan, const music::Score& score);

// Beats from the last chord's onset to the next pass's first onset, as `join` has it:
// `last` is the span of score time that ends the earlier pass, `next_begin` where the next begins.
// Worked example: 4/4, upbeat crotchet, last chord a dotted minim on beat 1, by the bar without
// extra bars: 3 beats (the upbeat enters in its own place); "3+2" gives 5.
[[nodiscard]] double join_span_beats(const Join& join, const music::Score& score, BeatUnit beat,
                                     Tick last_onset, TickSpan last, Tick next_begin);

// The join drawn as one line of text that shows where the next bar line falls.
[[nodiscard]] std::string draw_join(const Join& join, const music::Score& score, BeatUnit beat,
                                    Tick last_onset, TickSpan last, Tick next_begin);

}  // namespace loftbeat::plan
