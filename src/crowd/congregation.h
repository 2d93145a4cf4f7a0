#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "base/result.h"
#include "crowd/crowd_record.h"
#include "crowd/people.h"
#include "crowd/rt/choir.h"
#include "crowd/touch.h"
#include "crowd/voices.h"

namespace loftbeat::crowd {

struct CongregationOrder {
  Manners manners;
  room::Effort effort = room::Effort::raised;
  std::uint64_t seed = 1;
};

enum class Singing { off, on };

// A congregation that sings the verses to what a player plays: timing on the engine thread, sound
// on the audio thread, between them a one-way queue. It begins switched on.
//
//   engine                                    audio
//   key_down, key_up, advance  --queue-->     render
//
// Worked number: 20 m away people hear the organ 58 ms late, and are heard 58 ms late.
class Congregation {
 public:
  // Makes the voices: some tens of milliseconds and 2.5 MB. Score and route must outlive it.
  // Errors (wrong_use): people not in 1 to 2000, reluctance not in 0 to 0.08, metres not in 0 to
  // 100; a score without notes.
  [[nodiscard]] static Result<std::unique_ptr<Congregation>> prepare(
      const music::Score& score, const plan::Route& route, plan::BeatUnit beat,
      const CongregationOrder& order);

  // --- Engine thread ---

  // Frame `frame` of what is rendered is heard at `at`. Where the organ sounds a fixed time after
  // its stamp, `at` is the stamp whose key sounds at that frame, so that people keep their distance
  // to it. Call it before the first note and again whenever audio and take clock are compared;
  // notes told so far stay where they are. Until the first call people keep time and are not heard.
  void set_clock(Instant at, std::int64_t frame);
  // A key, after the follower was told of it: `player` is LiveFollower::position(at).
  void key_down(Instant at, int pitch, const follow::LivePosition& player);
  void key_up(Instant at, int pitch);
  // Every 20 ms or sooner.
  void advance(Instant now, const follow::LivePosition& player);
  // Off: they stop with the note they sing; nothing is recorded until they are on again, from the
  // next phrase or verse.
  void set_singing(Singing singing);
  // dB, -80 (silent) to 40; 0 is the true level against the organ's.
  void set_volume_db(double volume_db);

  // Not singing while switched off.
  [[nodiscard]] People::State state() const;
  // What has been sung so far, for the practice folder (format_crowd) and the review (who_led).
  [[nodiscard]] const CrowdRecord& record() const { return record_; }
  // The same as notes, for write_singing.
  [[nodiscard]] const std::vector<SungEvent>& sung() const { return sung_; }

  // --- Audio thread ---

  // Adds the singing to both channels. No lock, no allocation.
  void render(float* left, float* right, std::size_t frames) { choir_.render(left, right, frames); }
  // The same within a stream whose frames others count; `first` is the number of the first.
  void render_from(std::int64_t first, float* left, float* right, std::size_t frames) {
    choir_.render_from(first, left, right, frames);
  }

  // --- Any thread ---

  [[nodiscard]] std::int64_t frames_rendered() const { return choir_.frames_rendered(); }
  // Notes that found the queue full.
  [[nodiscard]] std::uint64_t events_refused() const { return choir_.events_refused(); }

 private:
  Congregation(const music::Score& score, const plan::Route& route, plan::BeatUnit beat,
               const CongregationOrder& order);
  void pass_on();
  [[nodiscard]] std::int64_t frame_of(Instant at) const;

  const plan::Route& route_;
  People people_;
  Touch touch_;
  rt::Choir choir_;
  CrowdRecord record_;
  std::vector<SungEvent> sung_;
  std::size_t beats_seen_ = 0;
  Singing singing_ = Singing::on;
  bool clocked_ = false;
  Instant clock_at_;
  std::int64_t clock_frame_ = 0;
};

}  // namespace loftbeat::crowd
