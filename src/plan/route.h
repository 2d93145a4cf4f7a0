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
  bool unaccompanied = false;        // no notes are expected
  std::optional<Tick> broaden_from;  // slowing is meant from here on
  double broaden_percent = 100;
};

// What is planned between route pass i and i + 1. An interlude is a pass of its own, unwritten and
// so without spans: the join before it spans the whole of it, up to the onset of the verse after
// it; the join after it says nothing.
struct RouteJoin {
  std::optional<Join> join;  // as planned; nothing: judged for likeness only
  // Beats from the onset of the last chord to the first onset of the next pass (after an
  // interlude's beats, if one lies between); nothing where no join is planned, where an interlude
  // of any length or an Amen follows, or beside an unaccompanied verse.
  std::optional<double> span_beats;
  bool after_play_over = false;
  bool with_interlude = false;
};

// A planned lengthening at a place of the score: a fermata held or free. One over the last chord
// of the score is not among them: how long that chord sounds is the join's matter.
struct PlannedHold {
  Tick at = 0;     // onset of the note that is held
  Tick until = 0;  // its written end (the topmost voice's, if that begins here)
  FermataKind kind = FermataKind::hold;
  double extra_beats = 0;  // for FermataKind::hold
};

struct Route {
  std::vector<RoutePass> passes;       // empty verses if the plan leaves their number open
  std::vector<RouteJoin> joins;        // passes.size() - 1 (or empty)
  std::vector<PlannedHold> holds;      // sorted by time
  std::vector<music::Phrase> phrases;  // the plan's, or the score's
  bool verses_known = true;            // false: the number of verses is found from the take
  bool play_over_known = true;
};

// Lays the plan over the score. Where the number of verses is open the route holds the play-over
// alone (if that is known); verse_pass and plan_join then speak for verses that are found.
//
// Errors name the plan's file and line: a phrase or bar that the
// score does not have, a join that leaves no room, a verse plan beyond the last verse.
[[nodiscard]] Result<Route> make_route(const Plan& plan, const music::Score& score);

// One verse as planned, for route.phrases; for a number that the plan does not know, the default.
[[nodiscard]] Result<RoutePass> verse_pass(const Plan& plan, const music::Score& score,
                                           const std::vector<music::Phrase>& phrases, int verse);

// The join planned between two passes of a route, or of a take whose verses were found.
[[nodiscard]] RouteJoin plan_join(const Plan& plan, const music::Score& score,
                                  const RoutePass& from, const RoutePass& to);

// Beats from the last chord's onset to the next pass's first onset, as `join` has it:
// `last` is the span of score time that ends the earlier pass, `next_begin` where the next begins.
// Requires last_onset inside `last`. A hold and lift is their sum, whatever the metre.
//
// By the bar, the bar lines of the ended pass run on and the next pass enters where its first
// note stands in its own bar. The entry taken is the last one that does not come after the
// written end of the chord ("cut short"), unless that leaves less than half of the chord: then the
// next one ("lengthened"). Extra bars come on top. Worked examples, in beats:
//   4/4, upbeat crotchet, last chord a dotted minim on beat 1: 3, the upbeat in its own place
//   4/4, upbeat crotchet, last chord a semibreve: 3, cut short by the upbeat ("bar+1": 7)
//   4/4, no upbeat, last chord a semibreve: 4; a minim on beat 3: 2
//   6/8, beat dotted crotchet, upbeat quaver, last chord a dotted crotchet and a crotchet
//   tied: 5/3 (the upbeat quaver is the last third of the second beat)
// and for comparison "3+2" gives 5 everywhere.
[[nodiscard]] double join_span_beats(const Join& join, const music::Score& score, BeatUnit beat,
                                     Tick last_onset, TickSpan last, Tick next_begin);

// The join drawn as one line of text that shows where the next bar line falls. Counts are those
// of the bar, four columns to a beat: ━ the last chord sounds, · silence, ╌ either (a chord
// lengthened by the bar), ▸ the next pass enters, ─ its upbeat, │ bar line. Then the beats from
// chord to entry, and how the next bar line lies against the bars running on. For example
//   │1━━━2━━━3━━━▸4───│1  3 beats; the metre runs on
//   │1━━━2━━━3━━━4···│1···▸4───│1  5 beats; next bar line 2 late of the running metre
[[nodiscard]] std::string draw_join(const Join& join, const music::Score& score, BeatUnit beat,
                                    Tick last_onset, TickSpan last, Tick next_begin);

}  // namespace loftbeat::plan
