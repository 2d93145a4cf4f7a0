#include "take/strokes.h"

#include <array>
#include <utility>

namespace loftbeat::take {
namespace {

constexpr std::uint32_t kNone = 0xFFFFFFFF;

// For each key of each slot the stroke that is still open.
class OpenStrokes {
 public:
  // Returns what was open there.
  std::uint32_t exchange(std::size_t slot, std::uint8_t key, std::uint32_t stroke) {
    while (slot >= open_.size()) open_.emplace_back().fill(kNone);
    return std::exchange(open_[slot][key & 0x7F], stroke);
  }

 private:
  std::vector<std::array<std::uint32_t, 128>> open_;
};

}  // namespace

Strokes strokes_of(const Take& take) {
  Strokes strokes;
  OpenStrokes open;
  const Instant end = take.events.empty() ? Instant() : take.events.back().at;
  for (const Event& event : take.events) {
    if (event.kind != EventKind::note_on && event.kind != EventKind::note_off) continue;
    const std::size_t slot = strokes.slots.number(event.port, event.channel);
    const bool on = event.kind == EventKind::note_on;
    const auto next = static_cast<std::uint32_t>(strokes.all.size());
    const std::uint32_t closed = open.exchange(slot, event.data1, on ? next : kNone);
    if (closed != kNone) strokes.all[closed].off = event.at;
    if (!on) continue;
    strokes.all.push_back({event.at, end, static_cast<std::uint16_t>(slot),
                           static_cast<std::uint8_t>(event.data1 & 0x7F), event.data2});
  }
  strokes.by_slot.resize(strokes.slots.size());
  for (std::uint32_t i = 0; i < strokes.all.size(); ++i) {
    strokes.by_slot[strokes.all[i].slot].push_back(i);
  }
  return strokes;
}

}  // namespace loftbeat::take
