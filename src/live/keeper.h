#pragma once

#include <atomic>
#include <chrono>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

#include "live/held_keys.h"
#include "live/rt/message.h"
#include "take/journal.h"

namespace loftbeat::live {

// The thread that keeps what was played: takes messages out of the callback's queue, writes them
// to the journal, waits for the disk at least every kSyncEvery, and hands each event on. So a crash
// or a power cut loses no more than the last 250 ms: kLookEvery + kSyncEvery + what the disk takes.
//
// A disk that refuses stops nothing: events stay in memory, the next sync tries again, and
// trouble() says so meanwhile.
class Keeper {
 public:
  static constexpr std::chrono::milliseconds kLookEvery{10};
  static constexpr std::chrono::milliseconds kSyncEvery{100};
  // What runs in the keeper's thread, event by event, in order of arrival; must not block for long.
  // Either may be empty.
  struct Rules {
    std::function<bool(const take::Event&)> left_out;  // not kept at all
    std::function<void(const take::Event&)> hand_on;   // of what is kept
  };

  // One queue for each input (each has one thread that pushes). They must outlive the keeper, which
  // is the one that pops from them. Where an input goes away, its held keys are released.
  Keeper(std::vector<rt::MessageQueue*> queues, take::JournalWriter journal);
  Keeper(std::vector<rt::MessageQueue*> queues, take::JournalWriter journal, Rules rules);
  ~Keeper();  // as end()
  Keeper(const Keeper&) = delete;
  Keeper& operator=(const Keeper&) = delete;

  // Takes what is still in the queue, marks the journal as ended, syncs, and joins the thread. The
  // error of the last sync, if the disk still refuses. May be called twice.
  [[nodiscard]] Status end();

  // Any thread but a callback's. An event from elsewhere (a mark, say), kept with the next look.
  void add(take::Event event);

  // Any thread. What the disk says at the moment; empty if all is well.
  [[nodiscard]] std::string trouble() const;
  // Any thread. Events kept so far, and of these what has surely reached the disk.
  [[nodiscard]] std::uint64_t kept() const { return kept_.load(std::memory_order_relaxed); }
  [[nodiscard]] std::uint64_t safe() const { return safe_.load(std::memory_order_relaxed); }
  // Any thread. Messages that were no event: broken ones.
  [[nodiscard]] std::uint64_t broken() const { return broken_.load(std::memory_order_relaxed); }

 private:
  void run();
  void drain();
  void keep(const rt::Message& message);
  void keep(const take::Event& event);
  [[nodiscard]] Status sync();

  std::vector<rt::MessageQueue*> queues_;
  HeldKeys held_;
  take::JournalWriter journal_;
  Rules rules_;
  std::atomic<bool> ending_{false};
  std::atomic<std::uint64_t> kept_{0};
  std::atomic<std::uint64_t> safe_{0};
  std::atomic<std::uint64_t> broken_{0};
  mutable std::mutex trouble_lock_;  // never held by a callback
  std::string trouble_;
  std::mutex added_lock_;  // the same
  std::vector<take::Event> added_;
  std::thread thread_;  // last: it uses the others
};

}  // namespace loftbeat::live
