#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <vector>

#include "base/time.h"
#include "crowd/firmness.h"
#include "crowd/keeping_together.h"
#include "crowd/rt/chance.h"
#include "crowd/sung_pass.h"
#include "follow/live_follower.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::crowd {

// 343.2 m/s at 20 C: 2.914 ms a metre.
inline constexpr double kSecondsPerMetre = 1 / 343.2;

// How people sing along. Figures without a source named are assumptions.
struct Manners {
  int people = 60;                // 1 to 2000
  double reluctance = 0.03;       // 0 to 0.08: how much slower they would go (keeping_together.h)
  double metres = 20;             // from organ and player to the people, 0 to 100
  double phase_gain_firm = 0.35;  // of the phase, behind a firm player ...
  double phase_gain_weak = 0.10;  // ... and behind one of no firmness; between them by firmness.h
  double period_gain = 0.30;
  double entry_s = 0.30;   // from hearing the organ begin to singing, the first time
  double breath_s = 0.35;  // taken from the last note of a phrase, at most 0.4 of it
  // Of one person's intervals, a share of the beat (3 to 6 %: Repp 2005, from memory). The middle
  // of N people scatters by 1 / sqrt N of it.
  double interval_sd = 0.04;
};

// A note of the people's, or its end.
struct SungEvent {
  enum class What : std::uint8_t { note, silence };
  Instant sung;   // at the people
  Instant heard;  // at the player: later by the way of the sound
  What what = What::note;
  int pitch = 60;  // as written for the tune
};

// A beat of the people's.
struct CrowdBeat {
  int pass = 0;  // LivePosition::passes_begun
  Tick tick = 0;
  Instant sung;
  friend bool operator==(const CrowdBeat&, const CrowdBeat&) = default;
};

// People who sing the verses to what a player plays. No clock of its own: what comes out depends
// on score, route, manners, seed and calls alone, and hardly on how often it is called (a struck
// onset is dated by the follower's own reckoning).
//
// - They hear the organ late by metres * 2.914 ms, and keep together with it as keeping_together.h
//   says, the phase gain going from weak to firm with the player's firmness.
// - They sing every pass that the route calls a verse, and what goes beyond the route; not the
//   play-over, interludes, the Amen. Where the route leaves open whether there is a play-over, the
//   first pass is taken for one. They know the tune: nothing is missed.
// - Where the play-over is the first line alone and the second is like it, the follower takes the
// first line of
//   the verse for the second of a longer play-over. People know the plan: they take it for the
//   verse.
// - Entry: `entry_s` after they hear the first onset. From the second verse join on they expect the
//   join that they know: 0.4 of it if this one lasted as long (in beats), all of it if it was off
//   by half a beat or more. Scatter 10 %.
// - Breath: at the end of a phrase they let go early, and count on the time that the organ adds
// there: what it
//   added before, half of the difference learnt at each phrase end, in the play-over too.
// - They go at most one beat past an onset that the organ should have struck and has not, and not
//   past a held fermata's end; then they hold the note till it goes on, four seconds at most.
// - Who is two beats or more away from the organ falls out and comes in with the next phrase.
//
// Engine thread only. Score and route must outlive it.
class People {
 public:
  // Notes are told so long before they sound: whoever scatters needs it (rt::kLeadFrames: 100 ms).
  static constexpr double kAheadSeconds = 0.12;
  static constexpr double kPatienceBeats = 1;
  static constexpr double kFallOutBeats = 2;
  static constexpr double kLongestWaitSeconds = 4;

  People(const music::Score& score, const plan::Route& route, plan::BeatUnit beat,
         const Manners& manners, std::uint64_t seed);

  // Now, and where the player is. Call it right after each LiveFollower::note_on with the note's
  // stamp, and every 20 ms or sooner besides. Time does not run backwards: an earlier `now` counts
  // as the latest.
  void advance(Instant now, const follow::LivePosition& player);
  // A key let go, clearly or smeared: touch.h tells which.
  void touched(Firmness::Touch touch) { firmness_.release(touch); }
  // Stops singing at once. The next verse, or phrase, is sung again.
  void hush();

  // What was told since it was last asked for, in order of time.
  [[nodiscard]] std::vector<SungEvent> take_events();
  // All beats so far, in order.
  [[nodiscard]] const std::vector<CrowdBeat>& beats() const { return beats_; }

  struct State {
    bool singing = false;
    bool waiting = false;  // holding a note until the organ goes on
    double place = 0;      // beats of the pass
    double firmness = 1;   // of the player, 0 to 1
    double lag_s = 0;      // asynchrony at the last beat compared: people late = positive,
                           // against the organ as they hear it
    double period_s = 0;   // people's, seconds a beat
  };
  [[nodiscard]] State state() const;

 private:
  struct Heard {
    double struck_s = 0;
    int pass = 0;
    int route_pass = -1;
    Tick onset = 0;
    double ns_per_tick = 0;
  };
  void notice(double now_s, const follow::LivePosition& player);
  void run_until(double now_s);
  void hear(Heard heard);
  void begin_pass(const Heard& heard);
  [[nodiscard]] bool verse_taken_for_play_over(const Heard& heard);
  void enter(std::size_t knot, double heard_s, double period_s, double entry_s);
  void go_on(double place, double heard_s);
  void compare(double place, double heard_s);
  void learn_breath(double place, double heard_s);
  [[nodiscard]] std::optional<std::size_t> knot_at(double place) const;
  [[nodiscard]] bool sings(const Heard& heard) const;
  [[nodiscard]] double entry_after_join(const Heard& heard);
  [[nodiscard]] double phase_gain() const;
  [[nodiscard]] bool may_pass(double place) const;
  [[nodiscard]] double running_until() const;
  bool one_step(double horizon_s);
  bool end_note(double horizon_s);
  void pass_knot();
  void fall_silent(double at_s);
  void tell(double at_s, SungEvent::What what, int pitch);
  void tell_beat(std::size_t knot);

  const music::Score& score_;
  const plan::Route& route_;
  plan::BeatUnit beat_;
  Manners manners_;
  rt::Chance chance_;
  Firmness firmness_;
  double way_s_;  // of the sound

  double now_s_ = 0;
  double told_s_ = 0;         // nothing that is told lies before
  int taken_for_ = 0;         // the pass that the follower takes the verse for; 0: it does not
  Tick taken_later_ = 0;      // by so much its ticks are too late then
  std::deque<Heard> coming_;  // struck, and not yet heard
  Heard last_;                // noticed last
  bool any_ = false;

  int pass_ = 0;
  bool sung_ = false;  // this pass is one that people sing
  SungPass laid_;
  double heard_place_ = 0;
  double heard_s_ = 0;
  std::optional<double> knot_place_;  // the last beat heard, for intervals
  double knot_s_ = 0;
  double heard_period_s_ = 1;  // the organ's, over the last few beats
  double breath_beats_ = 0;    // what the organ adds at phrase ends, as far as they know
  std::vector<double> joins_;  // beats from last onset to first, of earlier verse joins
  std::optional<KeepingTogether> together_;  // while they sing
  bool waiting_ = false;
  std::size_t next_note_ = 0;
  std::optional<SungNote> sounding_;
  std::vector<SungEvent> events_;
  std::vector<CrowdBeat> beats_;
};

}  // namespace loftbeat::crowd
