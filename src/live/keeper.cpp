#include "live/keeper.h"

#include <utility>

#include "live/message_event.h"
#include "live/oldest.h"

namespace loftbeat::live {

Keeper::Keeper(std::vector<rt::MessageQueue*> queues, take::JournalWriter journal)
    : Keeper(std::move(queues), std::move(journal), Rules{}) {}

Keeper::Keeper(std::vector<rt::MessageQueue*> queues, take::JournalWriter journal, Rules rules)
    : queues_(std::move(queues)),
      journal_(std::move(journal)),
      rules_(std::move(rules)),
      thread_([this] { run(); }) {}

Keeper::~Keeper() { static_cast<void>(end()); }

Status Keeper::end() {
  if (!thread_.joinable()) return {};
  ending_.store(true, std::memory_order_release);
  thread_.join();
  drain();
  journal_.end();
  return sync();
}

std::string Keeper::trouble() const {
  const std::lock_guard<std::mutex> lock(trouble_lock_);
  return trouble_;
}

void Keeper::run() {
  using Clock = std::chrono::steady_clock;
  Clock::time_point synced = Clock::now();
  while (!ending_.load(std::memory_order_acquire)) {
    drain();
    if (journal_.pending() > 0 && Clock::now() - synced >= kSyncEvery) {
      static_cast<void>(sync());
      synced = Clock::now();
    }
    std::this_thread::sleep_for(kLookEvery);
  }
}

void Keeper::drain() {
  while (rt::MessageQueue* queue = oldest_of(queues_)) {
    const rt::Message message = *queue->front();
    queue->pop();
    keep(message);
  }
  std::vector<take::Event> added;
  {
    const std::lock_guard<std::mutex> lock(added_lock_);
    added.swap(added_);
  }
  for (const take::Event& event : added) keep(event);
}

void Keeper::add(take::Event event) {
  const std::lock_guard<std::mutex> lock(added_lock_);
  added_.push_back(std::move(event));
}

void Keeper::keep(const rt::Message& message) {
  if (message.size == 1 && message.bytes[0] == rt::kInputGone) {
    const Instant at{Nanoseconds(message.at_ns)};
    for (const take::Event& event : held_.released(message.port, at)) keep(event);
    return;
  }
  const std::optional<take::Event> event = event_of(message);
  if (event) {
    keep(*event);
  } else {
    broken_.fetch_add(1, std::memory_order_relaxed);
  }
}

void Keeper::keep(const take::Event& event) {
  if (rules_.left_out && rules_.left_out(event)) return;
  if (!journal_.append(event)) {
    broken_.fetch_add(1, std::memory_order_relaxed);
    return;
  }
  held_.feed(event);
  kept_.fetch_add(1, std::memory_order_relaxed);
  if (rules_.hand_on) rules_.hand_on(event);
}

Status Keeper::sync() {
  Status status = journal_.sync();
  if (status) safe_.store(kept_.load(std::memory_order_relaxed), std::memory_order_relaxed);
  const std::lock_guard<std::mutex> lock(trouble_lock_);
  trouble_ = status ? "" : to_string(status.error());
  return status;
}

}  // namespace loftbeat::live
