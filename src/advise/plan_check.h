#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advise/free_hand.h"
#include "advise/hand_work.h"
#include "advise/measured_registration.h"
#include "base/measured.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::advise {

// Can this plan be carried out, and does it say what it means? Findings are values with the figure
// they rest on; their sentences are in plan_sentences.h. The same functions serve whoever looks for
// better plans: they judge one join and one pass at a time and keep nothing.

// In order of danger. One fault has one name: a join of more than one movement is not told as a
// lack of time as well, nor a missing hand.
enum class PlanFault {
  several_movements,     // three or more, or a piston and a knob; figure: movements, limit 1
  both_sides,            // two goes, on two sides of the console; figure: sides, limit 1
  draw_and_push,         // two goes on one side, one drawing, one pushing in; figure: goes, limit 1
  not_enough_time,       // figure: seconds needed, with the margin; limit: seconds there are
  no_free_hand,          // with a hand free there would be time; figure: semitones, limit: stretch
  unheard_change,        // figure: the largest of the changes over its threshold, limit 1
  weak_play_over,        // figure: its loudness over verse 1's
  dull_play_over,        // figure: acum, play-over less verse 1
  bright_for_few,        // figure: upper loudness over the singing, sone
  little_lead_for_many,  // figure: lead, sone
  long_breath,           // figure: seconds of the longest line
  texture_for_free,      // note: a texture would give the contrast without a hand
  doubled_upper_pitch,   // note; figure: stops at that pitch, limit 1
  time_unknown,          // note: no tempo, no join
  places_unknown,        // note: the organ file does not say where a control is
};
// A note is worth knowing and no fault.
[[nodiscard]] constexpr bool is_note(PlanFault fault) {
  return fault >= PlanFault::texture_for_free;
}

// The smallest thing to do about it.
enum class Mend {
  none,
  leave_out,       // leave `controls` as they are at this join
  prepare,         // moves-at = "silent": `controls` are on divisions that do not sound before
  longer_lift,     // by `by` beats
  use_pedal,       // let the pedal have the bass in the last chord
  change_nothing,  // leave the stops as they are
  texture,         // a texture instead
  as_verse_1,      // play over on the stops of verse 1
  fewer_upper,     // push in `controls`
  more_upper,      // draw upper work
  breathe,         // plan a breath in the line, or a quicker tempo by `by` beats a minute
  say_places,      // write side, row and place into the organ file
  say_join,        // write join and tempo into the plan
};

struct PlanFinding {
  PlanFault fault = PlanFault::several_movements;
  int pass = -1;  // index into the route's passes, or -1
  int join = -1;  // index into the route's joins, or -1
  double figure = 0;
  double limit = 0;
  std::string unit;
  double severity = 1;  // how far beyond the limit: 1 at the limit, more is worse
  Mend mend = Mend::none;
  double by = 0;  // for the mend
  std::vector<organ::ConsoleMove> controls = {};
  int phrase = 0;           // for long_breath, from 1
  std::string reason = {};  // what could not be known, and why
};

// How much counts.
struct CheckLimits {
  // Time there must be over time needed. Nerves and a full church take away a good part of what
  // works at home (common practice, no source; the fifth is ours).
  double time_margin = 1.2;
  int stretch_semitones = kStretchSemitones;
  // A change is heard if loudness or lead changes by 15 % (2 phon; two phon are twice what is told
  // apart in direct comparison: assumption) or sharpness by 0.1 acum (assumption: just noticeable
  // differences near 0.04 acum are reported for side-by-side listening, from memory).
  double heard_ratio = 1.15;
  double heard_acum = 0.1;
  // A play-over is much weaker below 0.7 of verse 1's loudness (5 phon), much duller from 0.3 acum
  // down (assumptions).
  double play_over_ratio = 0.7;
  double play_over_acum = -0.3;
  // Few and many people, and what is too bright and too little: the upper band adds more than half
  // of the singing's own loudness; what leads adds less than a tenth of it: less than 2 phon, so
  // that the singing with the organ is hardly told from the singing alone (assumptions).
  int few_people = 30;
  int many_people = 80;
  double bright_share = 0.5;
  double lead_share = 0.1;
  // A line sung in one breath. Adults hold one tone for 21 to 32 s on average when they try their
  // utmost (published norms of maximum phonation time, as listed in a review); loudly, with text
  // and without effort, half of the least (assumption).
  double breath_seconds = 10;
};

// What is fixed at a join whatever is drawn.
struct JoinFacts {
  Measured<ChangeWindow> window;  // where the stops move: at the join, or at a phrase end
  FreeHand hand;                  // in the chord before
  FreeHand hand_after;            // in the first chord after it
  plan::MovesAt moves_at;
  bool after_play_over = false;
  bool same_textures = true;
};

// A plan made ready for many questions. Pointers must outlive it.
struct CheckContext {
  const plan::Plan* plan = nullptr;  // none of the first three may be null
  const music::Score* score = nullptr;
  const plan::Route* route = nullptr;
  const ConsoleMap* console = nullptr;  // null: no organ; then only phrases are looked at
  int people = 0;                       // expected; 0: not known
  PlayerTimes player;
  CheckLimits limits;
  std::vector<JoinFacts> joins;   // one for each of the route's
  std::vector<PassSound> sounds;  // one for each pass of the route
};
// Fills joins and sounds, and takes the plan's own breath. About a millisecond.
[[nodiscard]] CheckContext make_check_context(const plan::Plan& plan, const music::Score& score,
                                              const plan::Route& route,
                                              const ConsoleMap* console = nullptr, int people = 0);

// The move at one join.
struct JoinWork {
  int join = -1;
  HandWork work;                             // at the join itself
  std::vector<organ::ConsoleMove> prepared;  // done before it, on silent divisions
  Measured<double> needed_s;       // all of it, from the eye's leaving the music; without margin
  Measured<double> needed_lift_s;  // the part that must lie in the silence
  Measured<ChangeWindow> window;
  FreeHand hand;
};
struct JoinCheck {
  JoinWork work;
  std::vector<PlanFinding> findings;
};

// One join with the registrations on its two sides. With both measured (in the sound of their own
// passes) it also says whether the change is heard; measures may be null.
//
// Needed: with the hand free in the last chord, the eye and the hand's way may lie in the chord;
// from the first control that moves to the hand's return must lie in the lift, but that silent
// divisions may change in the chord. With no hand free all of the hand's way lies in the lift.
// A helper is asked for no free hand, either side, and only the controls' own moving in the lift.
// Worked number: one knob 40 cm off: 2.0 s in all, 0.63 s of it in the lift; with the margin 2.4 s
// and 0.76 s.
//
// Cost: some microseconds, and those of hand_work.
[[nodiscard]] JoinCheck check_join(const CheckContext& context, std::size_t join,
                                   const organ::Registration& before,
                                   const organ::Registration& after,
                                   const MeasuredRegistration* heard_before = nullptr,
                                   const MeasuredRegistration* heard_after = nullptr);

// One pass by itself: too bright, too little lead, doubled pitches, and (once, it is no matter of
// stops) its longest line. Cost: some microseconds. `measured` may be null.
[[nodiscard]] std::vector<PlanFinding> check_pass(const CheckContext& context, std::size_t pass,
                                                  const organ::Registration& drawn,
                                                  const MeasuredRegistration* measured = nullptr);

// The play-over (pass `pass` of the route) as a promise of verse 1. Cost: below a microsecond.
[[nodiscard]] std::vector<PlanFinding> check_play_over(const CheckContext& context,
                                                       std::size_t pass,
                                                       const MeasuredRegistration& play_over,
                                                       const MeasuredRegistration& verse_1);

struct PlanCheck {
  std::vector<JoinWork> joins;        // of the route, in order; empty without an organ
  std::vector<PlanFinding> findings;  // the most dangerous first, notes last
};
// The whole plan. `drawn`: one for each pass of the route, or empty if there is no organ;
// `measured` likewise, or empty if there is no church. An unaccompanied verse changes nothing:
// what was drawn before it stays.
[[nodiscard]] PlanCheck check_plan(const CheckContext& context,
                                   const std::vector<organ::Registration>& drawn,
                                   const std::vector<MeasuredRegistration>& measured = {});

// By danger, then severity, then place.
void sort_findings(std::vector<PlanFinding>& findings);

}  // namespace loftbeat::advise
