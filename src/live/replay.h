#pragma once

#include <atomic>
#include <chrono>
#include <thread>

#include "live/rt/ears.h"
#include "take/take.h"

namespace loftbeat::live {

// A recorded take, played as an input would: at its own pace, or so many times as fast. Stamps are
// those of the take, so that what is reviewed is what was played; but what the sound is made of
// is stamped when it comes, since it is to be heard now.
class Replay {
 public:
  struct Order {
    double times = 1;  // 1 as it was played, 2 twice as fast; 0: as fast as the queues take it
    // When the stamps of the sound count from, and when the take's own begin.
    std::chrono::steady_clock::time_point start;
    std::chrono::steady_clock::time_point begin;
  };
  // Begins at once, in a thread of its own, the one that pushes to `ears`; take and ears must
  // outlive it.
  Replay(const take::Take& take, const Order& order, rt::Ears& ears);
  ~Replay();  // stops
  Replay(const Replay&) = delete;
  Replay& operator=(const Replay&) = delete;

  [[nodiscard]] bool done() const { return done_.load(std::memory_order_acquire); }

 private:
  void run(const take::Take& take);
  void hand_over(const rt::Message& message, std::chrono::steady_clock::time_point due);
  [[nodiscard]] bool stopping() const { return stopping_.load(std::memory_order_acquire); }

  Order order_;
  rt::Ears& ears_;

  std::atomic<bool> stopping_{false};
  std::atomic<bool> done_{false};
  std::thread thread_;
};

}  // namespace loftbeat::live
