#pragma once

#include <cstdint>

namespace loftbeat::voice::rt {

// The clock of rendering: frames of 1/48000 s from the first frame that was rendered.
inline constexpr int kSampleRate = 48000;

// Pipes begin and end at the edges of blocks of 64 frames (1.33 ms) only: FluidSynth 2.3 starts a
// note at the next edge, and everything here is rendered block by block. An event is carried out
// at the start of the block that its frame falls in: at most 63 frames early, never late.
// Worked number: frame 127 lies in the block that begins at frame 64.
inline constexpr int kBlockFrames = 64;
// So many blocks are rendered at once where nothing happens in them.
inline constexpr int kMostBlocks = 16;

enum class Act : std::uint8_t {
  key_down,            // division, index = key 0 to 127
  key_up,              // the same
  draw_stop,           // index = stop
  push_in_stop,        // index = stop
  draw_coupler,        // index = coupler
  push_in_coupler,     // index = coupler
  swell,               // division, value = 0 (shut) to 1 (open)
  tremulant_on,        // index = tremulant
  tremulant_off,       // index = tremulant
  release_keys,        // all keys of all divisions
  clear_stops,         // pushes in every stop and coupler, stops every tremulant
  silence_everything,  // keys released, pipes cut off, the room's tail muted; stops stay drawn
  volume,              // value = dB, -80 to 40
};

// One thing to do while rendering. Plain data, so that it can cross threads.
struct Event {
  std::int64_t frame = 0;  // when; earlier than now means now
  Act act = Act::key_down;
  std::uint8_t division = 0;
  std::uint16_t index = 0;
  float value = 0;
};

}  // namespace loftbeat::voice::rt
