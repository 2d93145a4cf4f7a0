#pragma once

#include <cstdint>
#include <vector>

namespace loftbeat::take {

// One source of notes: a channel of a port.
struct Slot {
  std::uint8_t port = 0;
  std::uint8_t channel = 0;
};

// Numbers the slots of a take 0, 1, 2 ... in the order in which they first occur, so that state
// can be kept in plain arrays. At most 4096 (256 ports of 16 channels).
class SlotTable {
 public:
  SlotTable() : index_(256 * 16, -1) {}

  [[nodiscard]] std::size_t number(std::uint8_t port, std::uint8_t channel) {
    int& known = index_[std::size_t{port} * 16 + (channel & 0x0F)];
    if (known < 0) {
      known = static_cast<int>(slots_.size());
      slots_.push_back({port, static_cast<std::uint8_t>(channel & 0x0F)});
    }
    return static_cast<std::size_t>(known);
  }
  [[nodiscard]] std::size_t size() const { return slots_.size(); }
  [[nodiscard]] const Slot& operator[](std::size_t number) const { return slots_[number]; }

 private:
  std::vector<int> index_;
  std::vector<Slot> slots_;
};

}  // namespace loftbeat::take
