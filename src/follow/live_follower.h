#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "music/score.h"
#include "plan/route.h"

namespace loftbeat::follow {

// Where the player is.
struct LivePosition {
  bool in_tune = false;    // false: before the first note, or playing what is not the tune
  Tick tick = 0;           // in the score; moves with the player's speed between onsets
  Tick onset = 0;          // the onset that was struck last
  int route_pass = -1;     // index into Route::passes, as far as the route goes; -1: beyond
  int passes_begun = 0;    // from 1 in the first
  double ns_per_tick = 0;  // the player's speed now
  double unsure = 0;       // 0: no other place is as likely; 1: another is just as likely
};

// Follows note by note: the model of align() run forward (lattice.h). Revises only what it said in
// the last 50 ms, while a chord is still being struck. Keys that the route plans are followed, no
// others. Not thread-safe.
//
// Cost: some microseconds a note for a tune of a hundred onsets; no allocation once every state
// has been seen.
class LiveFollower {
 public:
  // Score and route must outlive it. Requires a score with at least one note.
  LiveFollower(const music::Score& score, const plan::Route& route, double set_quarters_per_minute);
  ~LiveFollower();
  LiveFollower(const LiveFollower&) = delete;
  LiveFollower& operator=(const LiveFollower&) = delete;

  // In order of time.
  void note_on(Instant at, int pitch);
  void note_off(Instant at, int pitch);
  // Time may be any from the last note on.
  [[nodiscard]] LivePosition position(Instant now) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace loftbeat::follow
