#include "take/key_book.h"

#include <algorithm>

namespace loftbeat::take {
namespace {

constexpr std::uint8_t kSustain = 64;
constexpr std::uint8_t kAllSoundOff = 120;
constexpr std::uint8_t kResetControllers = 121;
constexpr std::uint8_t kAllNotesOff = 123;  // 124 to 127 change the mode and mean it too

std::uint16_t bit_of(std::uint8_t channel) {
  return static_cast<std::uint16_t>(1u << (channel & 0x0Fu));
}

Nanoseconds distance(Nanoseconds a, Nanoseconds b) { return a < b ? b - a : a - b; }

}  // namespace

KeyBook::SlotState& KeyBook::state(std::size_t slot) {
  if (slot >= slots_.size()) slots_.resize(slot + 1);
  return slots_[slot];
}

bool KeyBook::is_loop(const SlotState& slot, const Cell& cell, Instant at) {
  return slot.loop_delay.count() > 0 && cell.note >= 0 &&
         distance(at - note(cell).on, slot.loop_delay) <= kLoopSlack;
}

void KeyBook::strike(std::size_t slot, const Event& event) {
  SlotState& from = state(slot);
  const std::uint8_t key = event.data1 & 0x7F;
  Cell& cell = from.cells[key];
  const std::int32_t newest = newest_[key];
  if (is_loop(from, cell, event.at)) {
    join(cell, cell.note, event);
  } else if (newest >= 0 && event.at - notes_[static_cast<std::size_t>(newest)].on <= kTwinWindow) {
    join(cell, newest, event);
  } else {
    open(cell, event);
    newest_[key] = cell.note;
  }
  press(from, cell);
}

void KeyBook::open(Cell& cell, const Event& event) {
  if (cell.note >= 0) end_sound(cell, event.at);
  cell.note = static_cast<std::int32_t>(notes_.size());
  notes_.push_back({event.at, event.at, event.at, static_cast<std::uint8_t>(event.data1 & 0x7F),
                    event.data2, event.port, event.channel, bit_of(event.channel)});
}

void KeyBook::join(Cell& cell, std::int32_t joined, const Event& event) {
  if (cell.note == joined) {
    ++findings_.echoes;
  } else {
    ++findings_.twins;
    if (cell.note >= 0) end_sound(cell, event.at);
  }
  cell.note = joined;
  note(cell).channels |= bit_of(event.channel);
}

// The key's earlier note is over because the key speaks anew.
void KeyBook::end_sound(Cell& cell, Instant at) {
  TakenNote& earlier = note(cell);
  if (cell.down) earlier.off = std::max(earlier.off, at);
  if (cell.down || cell.ringing) earlier.sound_off = std::max(earlier.sound_off, at);
  cell.ringing = false;
}

// Strikes that were not answered before the last release stay open only until the key is struck
// again: a release that was lost must not be waited for.
void KeyBook::press(SlotState& slot, Cell& cell) {
  if (!cell.down) {
    cell.strikes = 0;
    ++slot.keys_down;
  }
  ++cell.strikes;
  cell.down = true;
  cell.ringing = false;
}

void KeyBook::release(std::size_t slot, std::uint8_t key, Instant at) {
  SlotState& from = state(slot);
  Cell& cell = from.cells[key & 0x7F];
  if (cell.strikes == 0) return;
  --cell.strikes;
  if (cell.down) --from.keys_down;
  cell.down = false;
  TakenNote& held = note(cell);
  held.off = std::max(held.off, at);
  if (!from.pedal) {
    held.sound_off = std::max(held.sound_off, at);
  } else if (!cell.ringing) {
    cell.ringing = true;
    from.ringing_keys.push_back(key & 0x7F);
  }
}

void KeyBook::control(std::size_t slot, const Event& event) {
  if (event.data1 == kSustain && event.data2 >= 64) {
    pedal_down(state(slot), event.at);
  } else if (event.data1 == kSustain || event.data1 == kResetControllers) {
    pedal_up(state(slot), event.at);
  } else if (event.data1 == kAllSoundOff) {
    silence_all(slot, event.at);
  } else if (event.data1 >= kAllNotesOff) {
    release_all(slot, event.at);
  }
}

void KeyBook::expect_loop(std::size_t slot, Nanoseconds delay) { state(slot).loop_delay = delay; }

void KeyBook::pedal_down(SlotState& slot, Instant at) {
  if (slot.pedal) return;
  slot.pedal = true;
  if (pedals_down_++ == 0) sustain_.push_back({at, at});
}

void KeyBook::pedal_up(SlotState& slot, Instant at) {
  if (!slot.pedal) return;
  slot.pedal = false;
  if (--pedals_down_ == 0) sustain_.back().up = at;
  for (const std::uint8_t key : slot.ringing_keys) {
    Cell& cell = slot.cells[key];
    if (cell.ringing) end_sound(cell, at);
  }
  slot.ringing_keys.clear();
}

void KeyBook::release_all(std::size_t slot, Instant at) {
  if (state(slot).keys_down == 0) return;
  for (std::uint8_t key = 0; key < 128; ++key) {
    if (state(slot).cells[key].down) release(slot, key, at);
  }
}

// Whatever the pedal holds falls silent as well; the pedal itself stays where it is.
void KeyBook::silence_all(std::size_t slot, Instant at) {
  release_all(slot, at);
  SlotState& from = state(slot);
  for (const std::uint8_t key : from.ringing_keys) {
    if (from.cells[key].ringing) end_sound(from.cells[key], at);
  }
  from.ringing_keys.clear();
}

void KeyBook::finish(Instant at) {
  for (SlotState& slot : slots_) {
    for (Cell& cell : slot.cells) {
      if (cell.down) ++findings_.hanging;
      if (cell.note >= 0) end_sound(cell, at);
      cell.down = false;
    }
  }
  if (pedals_down_ > 0) sustain_.back().up = at;
  for (TakenNote& n : notes_) n.sound_off = std::max(n.sound_off, n.off);
  std::stable_sort(notes_.begin(), notes_.end(), [](const TakenNote& a, const TakenNote& b) {
    return a.on != b.on ? a.on < b.on : a.pitch < b.pitch;
  });
}

}  // namespace loftbeat::take
