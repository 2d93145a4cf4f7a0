#include "live/engine.h"

#include <utility>

#include "live/message_event.h"
#include "live/oldest.h"

namespace loftbeat::live {

Engine::Engine(Order order)
    : order_(std::move(order)), view_(order_.work), thread_([this] { run(); }) {}

Engine::~Engine() {
  ending_.store(true, std::memory_order_release);
  thread_.join();
  drain();
}

NowPlaying Engine::snapshot() const {
  const std::lock_guard<std::mutex> lock(lock_);
  return snapshot_;
}

void Engine::run() {
  while (!ending_.load(std::memory_order_acquire)) {
    drain();
    const Instant now = order_.now();
    NowPlaying seen = view_.look(now);
    if (order_.looked) order_.looked(seen, now, view_.follower());
    {
      const std::lock_guard<std::mutex> lock(lock_);
      snapshot_ = std::move(seen);
    }
    std::this_thread::sleep_for(kLookEvery);
  }
}

void Engine::drain() {
  while (rt::MessageQueue* queue = oldest_of(order_.queues)) {
    const rt::Message message = *queue->front();
    queue->pop();
    take(message);
  }
}

void Engine::take(const rt::Message& message) {
  if (message.size == 1 && message.bytes[0] == rt::kInputGone) {
    const Instant at{Nanoseconds(message.at_ns)};
    for (const take::Event& event : held_.released(message.port, at)) take(event);
    return;
  }
  if (const auto event = event_of(message)) take(*event);
}

void Engine::take(const take::Event& event) {
  held_.feed(event);
  events_.fetch_add(1, std::memory_order_relaxed);
  if (order_.heard) order_.heard(event);
  if (order_.is_control && order_.is_control(event)) return;
  view_.feed(event);
  if (order_.followed) order_.followed(event, view_.follower());
}

}  // namespace loftbeat::live
