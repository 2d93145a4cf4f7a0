#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include "base/result.h"
#include "voice/rt/player.h"
#include "voice/sound_stream.h"

namespace loftbeat::voice {

// A performance out of the sound device (sound_stream.h).

// What playback tells while it runs.
struct PlaybackState {
  std::int64_t frame = 0;  // of the performance, as rendered
  float least_gain = 1;    // of the limiter since the last state
};

struct PlaybackOrder {
  std::string device;       // part of a name, upper or lower case; empty: the system's default
  std::int64_t frames = 0;  // how long the performance is; 0: until `state` ends it
  // Called some 20 times a second from the calling thread. False: silence everything and end.
  std::function<bool(const PlaybackState&)> state;
};

struct Played {
  std::int64_t frames = 0;
  std::uint64_t underflows = 0;  // times the device had to wait for us
  double latency_seconds = 0;    // as the device states it
};

// Plays to the end, the ringing included. Blocks. The player must not have rendered yet and
// is not touched by others, but for post().
// Errors: no device, no such device (with those there are), a device that refuses 48 kHz or goes
// away.
[[nodiscard]] Result<Played> play(rt::Player& player, const PlaybackOrder& order);

}  // namespace loftbeat::voice
