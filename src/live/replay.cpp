#include "live/replay.h"

#include <algorithm>
#include <chrono>

#include "live/message_event.h"

namespace loftbeat::live {
namespace {

// Short enough for stopping to be felt at once.
constexpr std::chrono::milliseconds kNap{5};

}  // namespace

Replay::Replay(const take::Take& take, const Order& order, rt::Ears& ears)
    : order_(order), ears_(ears), thread_([this, &take] { run(take); }) {}

Replay::~Replay() {
  stopping_.store(true, std::memory_order_release);
  thread_.join();
}

void Replay::hand_over(const rt::Message& message, std::chrono::steady_clock::time_point due) {
  for (const rt::Reader reader : {rt::Reader::keeper, rt::Reader::engine, rt::Reader::sound}) {
    rt::MessageQueue* queue = ears_.of(reader);
    if (queue == nullptr) continue;
    rt::Message stamped = message;
    if (reader == rt::Reader::sound)
      stamped.at_ns =
          std::chrono::duration_cast<std::chrono::nanoseconds>(due - order_.start).count();
    while (!stopping() && !queue->push(stamped)) std::this_thread::sleep_for(kNap);
  }
}

void Replay::run(const take::Take& take) {
  using Clock = std::chrono::steady_clock;
  for (const take::Event& event : take.events) {
    const auto message = message_of(event);
    if (!message) continue;
    Clock::time_point due = Clock::now();
    if (order_.times > 0) {
      due = order_.begin +
            std::chrono::duration_cast<Clock::duration>(event.at.time_since_epoch() / order_.times);
      while (!stopping() && Clock::now() < due)
        std::this_thread::sleep_until(std::min(due, Clock::now() + kNap));
    }
    if (stopping()) return;
    hand_over(*message, due);
  }
  done_.store(true, std::memory_order_release);
}

}  // namespace loftbeat::live
