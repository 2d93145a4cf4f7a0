#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/base.h"

namespace loftbeat::take {

enum class EventKind : std::uint8_t {
  note_on,   // data1 = key, data2 = velocity 1..127 (velocity 0 is stored as note_off)
  note_off,  // data1 = key, data2 = release velocity
  key_pressure,
  control,  // data1 = controller, data2 = value
  program,  // data1 = program
  channel_pressure,
  pitch_bend,  // data1 = low seven bits, data2 = high seven bits
  exclusive,   // bytes hold the system exclusive message from F0 to F7
  marker,      // bytes hold the text of a marker or cue of the file
};

// One thing that happened, in the order in which it came.
struct Event {
  Instant at;
  EventKind kind = EventKind::note_on;
  std::uint8_t port = 0;     // which input (or which track of the file's ports), 0 = the first
  std::uint8_t channel = 0;  // 0 to 15
  std::uint8_t data1 = 0;
  std::uint8_t data2 = 0;
  std::string bytes;
};

// A performance as recorded. Events are sorted by time; equal times keep the order of arrival.
struct Take {
  std::vector<Event> events;
  Nanoseconds stamp_step{0};  // the coarsest tick of the file it was read from; 0 = none
  std::vector<Notice> notices;
};

// One key held down, after hygiene.
struct TakenNote {
  Instant on;
  Instant off;        // key released (the last one, if several manuals held it)
  Instant sound_off;  // when it falls silent: later than `off` while a sustain pedal is down
  std::uint8_t pitch = 60;
  std::uint8_t velocity = 64;
  std::uint8_t port = 0;
  std::uint8_t channel = 0;
  std::uint16_t channels = 0;  // bit set of all channels that struck it (twins), bit 0 = channel 0
};

// One use of the sustain pedal (CC64 at 64 or more): [down, up).
struct PedalSpan {
  Instant down;
  Instant up;
};

// What following works on. Notes are sorted by (on, pitch).
struct CleanTake {
  std::vector<TakenNote> notes;
  std::vector<PedalSpan> sustain;
  Nanoseconds stamp_uncertainty{0};  // half the width of the stamps' lattice: 0 if they are fine
  std::uint16_t pedal_channels = 0;  // channels that are plainly a pedal division; 0 if none is
  bool velocity_varies = false;      // false for keyboards that send one fixed velocity
  std::vector<Notice> notices;       // twins, loops, auto-accompaniment, transposed keyboard ...
};

}  // namespace loftbeat::take
