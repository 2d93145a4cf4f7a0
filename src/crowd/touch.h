#pragma once

#include <array>
#include <optional>

#include "base/time.h"
#include "crowd/firmness.h"
#include "follow/live_follower.h"
#include "music/score.h"

namespace loftbeat::crowd {

// Tells as keys are let go whether that was clear or smeared: smeared is a key that is still down
// more than 50 ms after the organ has gone on to an onset at or past the note's written end (the
// plan's usual `smear_ms`). A key that belongs to no note of the score where it was struck says
// nothing. Worked number: a crotchet struck on beat 1, beat 2 struck at 0.75 s: let go at 0.80 s
// clear, at 0.81 s smeared.
//
// Engine thread. The score must outlive it.
class Touch {
 public:
  static constexpr double kSmearSeconds = 0.05;

  explicit Touch(const music::Score& score) : score_(score) {}
  // Where the follower is once it knows of the note; `transpose_semitones` of the pass.
  void key_down(Instant at, int pitch, const follow::LivePosition& player,
                int transpose_semitones = 0);
  [[nodiscard]] std::optional<Firmness::Touch> key_up(Instant at, int pitch);

 private:
  struct Key {
    Tick end = -1;  // of the note; < 0: none
    int pass = 0;
    std::optional<Instant> over;  // when the organ went on past it
  };
  [[nodiscard]] Tick end_of(Tick onset, int pitch) const;

  const music::Score& score_;
  std::array<Key, 128> keys_{};
};

}  // namespace loftbeat::crowd
