#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>

namespace loftbeat {

// Carries values from one thread to another, from or to one that may not wait. No lock, no
// allocation, no waiting. Value is copied and must be trivially copyable to keep that promise.
//
// 1. Exactly one thread pushes, exactly one pops.
// 2. `written_` is stored by the pusher alone, `taken_` by the popper alone; both only grow.
// 3. The slots [taken_, written_) belong to the popper, all others to the pusher.
// 4. A slot changes hands by a release store of its owner's index, seen by an acquire load.
//
// A full queue refuses and counts; it never overwrites.
template <typename Value, std::size_t Capacity>
class OneWayQueue {
 public:
  static constexpr std::size_t kCapacity = Capacity;

  // Pushing thread. False if the queue is full: the value is dropped and counted.
  [[nodiscard]] bool push(const Value& value) {
    const std::uint64_t at = written_.load(std::memory_order_relaxed);
    if (at - taken_.load(std::memory_order_acquire) == kCapacity) {
      refused_.fetch_add(1, std::memory_order_relaxed);
      return false;
    }
    slots_[at % kCapacity] = value;
    written_.store(at + 1, std::memory_order_release);
    return true;
  }

  // Popping thread. The oldest value, or null; valid until pop().
  [[nodiscard]] const Value* front() const {
    const std::uint64_t at = taken_.load(std::memory_order_relaxed);
    if (at == written_.load(std::memory_order_acquire)) return nullptr;
    return &slots_[at % kCapacity];
  }

  // Popping thread. Requires front().
  void pop() {
    taken_.store(taken_.load(std::memory_order_relaxed) + 1, std::memory_order_release);
  }

  // Any thread. Values that found the queue full.
  [[nodiscard]] std::uint64_t refused() const { return refused_.load(std::memory_order_relaxed); }

 private:
  std::array<Value, kCapacity> slots_{};
  alignas(64) std::atomic<std::uint64_t> written_{0};
  alignas(64) std::atomic<std::uint64_t> taken_{0};
  std::atomic<std::uint64_t> refused_{0};
};

}  // namespace loftbeat
