#pragma once

#include <cstddef>
#include <mutex>
#include <string>
#include <vector>

#include "app/listen_work.h"
#include "live/live_view.h"
#include "take/take.h"

namespace loftbeat::app {

// The verdict on each join, as soon as the new pass has settled: the review of what has been played
// so far, by the very functions that review the whole. feed() and look() may be called in other
// threads than fresh().
class ListenVerdicts {
 public:
  explicit ListenVerdicts(const ListenWork& work) : work_(work) {}

  void feed(const take::Event& event);
  void look(const live::NowPlaying& now, Instant at);
  // The joins that can be told by now and have not been told; some hundredths of a second for a
  // long take.
  [[nodiscard]] std::vector<std::string> fresh();
  // What was fed. Only when nobody feeds any more.
  [[nodiscard]] const take::Take& take() const { return take_; }

 private:
  const ListenWork& work_;
  std::mutex lock_;
  take::Take take_;
  int passes_ = 0;
  Instant pass_began_;
  bool due_ = false;
  std::size_t told_ = 0;
};

}  // namespace loftbeat::app
