#pragma once

#include <atomic>
#include <memory>
#include <vector>

#include "app/listen_work.h"
#include "crowd/congregation.h"
#include "live/rt/stage.h"

namespace loftbeat::app {

// People who sing along with one practice after another: each begins with people who know nothing
// of the one before. Those of earlier ones stay until the end, since the audio thread may still
// hold them.
class ListenSingers {
 public:
  // `work` must outlive this.
  ListenSingers(const ListenWork& work, crowd::CongregationOrder order);

  // What the stage mixes in; to be handed to it once.
  [[nodiscard]] std::unique_ptr<live::rt::AddedSound> sound();

  // --- The program's thread, while no practice runs ---
  // New people. Errors: what Congregation::prepare says.
  [[nodiscard]] Status begin();

  // --- The engine's thread ---
  // `stage`: whose clock counts; `start_ns`: of the take, on the steady clock.
  void set_clock(const live::rt::Stage& stage, std::int64_t start_ns);
  void key(const take::Event& event, const follow::LiveFollower& follower);
  void advance(Instant now, const follow::LiveFollower& follower);

  // When no practice runs: what was sung in the last one.
  [[nodiscard]] const crowd::CrowdRecord& record() const { return people_.back()->record(); }

 private:
  class Mixed;
  const ListenWork& work_;
  crowd::CongregationOrder order_;
  std::vector<std::unique_ptr<crowd::Congregation>> people_;
  std::atomic<crowd::Congregation*> now_{nullptr};
};

}  // namespace loftbeat::app
