#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include "base/result.h"
#include "voice/rt/player.h"

namespace loftbeat::voice {

// How far a long piece of work has come, 0 to 1. Return false to give it up.
using Progress = std::function<bool(double share)>;

// Nothing rendered may be longer (a file of two hours is 2 GB).
inline constexpr std::int64_t kMostFrames = std::int64_t{7200} * rt::kSampleRate;

struct Rendered {
  std::int64_t frames = 0;  // written
  double peak = 0;          // of full scale
  float least_gain = 1;     // of the limiter
};

// Renders into a file, as fast as it goes: `frames` and then what rings on, until it is 100 dB
// under full scale or the room's tail and three seconds have passed. The limiter's delay is cut
// off, so that the file begins when the playing does.
// Errors: too long, a full disk; (failed, "given up") when `progress` says so. One thread.
[[nodiscard]] Result<Rendered> render_to_file(rt::Player& player, std::int64_t frames,
                                              const std::string& path, const Progress& progress);

}  // namespace loftbeat::voice
