#pragma once

#include "app/sound_order.h"

namespace loftbeat::app {

// Plays, or writes a sound file, as ordered; or lists the sound devices. Errors go to standard
// error, one line each. Ctrl-C silences everything and ends well. Returns the exit code.
[[nodiscard]] int run_sound(const SoundOrder& order);

}  // namespace loftbeat::app
