#pragma once

#include <optional>
#include <string>

#include "follow/live_follower.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"
#include "take/take.h"

namespace loftbeat::live {

// What is to be seen of a player at one moment.
struct NowPlaying {
  bool begun = false;    // a note has been struck
  bool in_tune = false;  // false: something else than the tune is played
  int route_pass = -1;   // index into Route::passes; -1: beyond the route
  int passes_begun = 0;
  std::string pass;          // label: "play-over", "1"; beyond the route by counting on
  int phrase = 0;            // from 1; 0: the tune has none
  bool last_phrase = false;  // of the pass
  std::string bar;           // as printed
  double beat = 1;           // of the bar, from 1
  bool in_join = false;      // the last chord of the pass has been struck
  int coming_join = -1;      // index into Route::joins: after this pass; -1: none
  // Behind (+) or ahead (-) of the set tempo at the last onset, counted from the pass's first.
  std::optional<double> behind_seconds;
  double quarters_per_minute = 0;  // the player's speed now
  double unsure = 0;               // as LivePosition::unsure
  int keys_down = 0;
  Instant last_note;  // when the last key went down
};

// Follows a player, event by event, and says where he is. Pure: the time is handed in. Not
// thread-safe. The pointers must outlive it.
class LiveView {
 public:
  struct Work {
    const plan::Plan* plan = nullptr;  // none may be null
    const music::Score* score = nullptr;
    const plan::Route* route = nullptr;
    double tempo_bpm = 0;  // beats of the plan, > 0
  };
  explicit LiveView(const Work& work);

  // Events in order of time; what is no key is passed over.
  void feed(const take::Event& event);
  [[nodiscard]] NowPlaying look(Instant now) const;
  [[nodiscard]] const follow::LiveFollower& follower() const { return follower_; }

 private:
  void struck(Instant at);
  [[nodiscard]] std::string label_of(const follow::LivePosition& position) const;
  void tell_place(const follow::LivePosition& position, NowPlaying& now) const;
  [[nodiscard]] std::optional<double> planned_seconds(int route_pass, Tick tick) const;

  Work work_;
  follow::LiveFollower follower_;
  int passes_begun_ = 0;
  Instant anchor_;  // the first onset of the pass
  Tick anchor_tick_ = 0;
  std::optional<double> behind_;
  int keys_down_ = 0;
  Instant last_note_;
};

}  // namespace loftbeat::live
