#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "take/slots.h"
#include "take/take.h"

namespace loftbeat::take {

// Strikes of one key closer than this, both bounds inclusive, are one note: coupled manuals send
// a key twice, loops and worn contacts too. (Bound fixed by the design; the fastest trills of one
// key known are some 15 strikes a second, 66 ms apart: from memory.)
inline constexpr Nanoseconds kTwinWindow = std::chrono::milliseconds(10);

// How far a loop's delay may wander and still be the same loop.
inline constexpr Nanoseconds kLoopSlack = std::chrono::milliseconds(3);

// What the book met on the way.
struct KeyFindings {
  std::size_t twins = 0;    // struck on a second channel within kTwinWindow
  std::size_t echoes = 0;   // struck on the same channel again within kTwinWindow, or looped
  std::size_t hanging = 0;  // still down at the end
};

// Keeps account of every key of every slot, event by event, and writes the notes down.
//
// A strike opens a note, or joins the newest note of its key if that began within kTwinWindow.
// A note ends with the last release of all slots that struck it. A strike of a key that its own
// slot still holds ends the earlier note there; held by another slot, both notes go on, each to
// its own release. While a slot's sustain pedal is down its notes sound on after their release,
// until the pedal comes up or the key is struck again.
// Not thread safe. Memory: 4 KB a slot and one TakenNote a note.
class KeyBook {
 public:
  // `slot` counts from 0; slots appear on first use.
  void strike(std::size_t slot, const Event& event);
  void release(std::size_t slot, std::uint8_t key, Instant at);
  void control(std::size_t slot, const Event& event);
  // From now on a strike that follows the same slot's last one of that key by `delay`, give or
  // take kLoopSlack, is its echo.
  void expect_loop(std::size_t slot, Nanoseconds delay);
  // Closes all that is still open at `at`. Call it once, last.
  void finish(Instant at);

  // Sorted by (on, pitch) after finish().
  [[nodiscard]] std::vector<TakenNote>& notes() { return notes_; }
  [[nodiscard]] std::vector<PedalSpan>& sustain() { return sustain_; }
  [[nodiscard]] const KeyFindings& findings() const { return findings_; }

 private:
  struct Cell {
    std::int32_t note = -1;     // the newest note that this key of this slot struck
    std::uint32_t strikes = 0;  // strikes of it that no release has answered yet
    bool down = false;          // no release since the last strike
    bool ringing = false;       // released, and held by the pedal
  };
  struct SlotState {
    std::array<Cell, 128> cells;
    std::vector<std::uint8_t> ringing_keys;
    Nanoseconds loop_delay{0};  // 0 = none
    int keys_down = 0;
    bool pedal = false;
  };

  SlotState& state(std::size_t slot);
  [[nodiscard]] TakenNote& note(const Cell& cell) {
    return notes_[static_cast<std::size_t>(cell.note)];
  }
  [[nodiscard]] bool is_loop(const SlotState& slot, const Cell& cell, Instant at);
  void end_sound(Cell& cell, Instant at);
  void open(Cell& cell, const Event& event);
  void join(Cell& cell, std::int32_t note, const Event& event);
  void press(SlotState& slot, Cell& cell);
  void pedal_down(SlotState& slot, Instant at);
  void pedal_up(SlotState& slot, Instant at);
  void release_all(std::size_t slot, Instant at);
  void silence_all(std::size_t slot, Instant at);

  std::vector<SlotState> slots_;
  std::array<std::int32_t, 128> newest_ = filled_with_none();
  std::vector<TakenNote> notes_;
  std::vector<PedalSpan> sustain_;
  int pedals_down_ = 0;
  KeyFindings findings_;

  static constexpr std::array<std::int32_t, 128> filled_with_none() {
    std::array<std::int32_t, 128> none{};
    none.fill(-1);
    return none;
  }
};

}  // namespace loftbeat::take
