#pragma once

#include <span>
#include <string>

#include "base/result.h"
#include "crowd/people.h"
#include "crowd/voices.h"

namespace loftbeat::crowd {

struct SingingWritten {
  std::int64_t frames = 0;
  double peak = 0;  // of full scale
};

// Writes what was sung into a sound file (WAV or FLAC by the ending, voice/sound_file.h), as heard
// at the player, from the start of the take to two seconds after the last event. Events in order of
// time, none before the take; the limiter holds peaks at -1 dB. Errors: no event, longer than two
// hours, another ending, a full disk. One thread.
[[nodiscard]] Result<SingingWritten> write_singing(std::span<const SungEvent> events,
                                                   const ChoirOrder& order,
                                                   const std::string& path);

}  // namespace loftbeat::crowd
