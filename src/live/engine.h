#pragma once

#include <atomic>
#include <chrono>
#include <cstdint>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "live/held_keys.h"
#include "live/live_view.h"
#include "live/rt/message.h"

namespace loftbeat::live {

// The thread that knows where the player is: takes messages out of queues of its own (so that a
// disk that is slow holds up nothing), follows, and publishes what is to be seen.
class Engine {
 public:
  static constexpr std::chrono::milliseconds kLookEvery{2};
  struct Order {
    LiveView::Work work;
    std::vector<rt::MessageQueue*> queues;  // one of each input; this pops from them
    // All four run in the engine's thread and must not block for long; any may be empty.
    std::function<bool(const take::Event&)> is_control;  // a stop's own key is no note
    std::function<void(const take::Event&)> heard;       // every event, in order
    // Keys, after the follower was told of them.
    std::function<void(const take::Event&, const follow::LiveFollower&)> followed;
    // Every kLookEvery.
    std::function<void(const NowPlaying&, Instant, const follow::LiveFollower&)> looked;
    // The time of the take now.
    std::function<Instant()> now;
  };
  explicit Engine(Order order);
  ~Engine();  // takes what is still in the queues, joins the thread
  Engine(const Engine&) = delete;
  Engine& operator=(const Engine&) = delete;

  // Any thread: the latest.
  [[nodiscard]] NowPlaying snapshot() const;
  // Any thread. Events heard so far.
  [[nodiscard]] std::uint64_t events() const { return events_.load(std::memory_order_relaxed); }

 private:
  void run();
  void drain();
  void take(const rt::Message& message);
  void take(const take::Event& event);

  Order order_;
  LiveView view_;
  HeldKeys held_;
  std::atomic<bool> ending_{false};
  std::atomic<std::uint64_t> events_{0};
  mutable std::mutex lock_;  // of snapshot_; held by no callback
  NowPlaying snapshot_;
  std::thread thread_;  // last: it uses the others
};

}  // namespace loftbeat::live
