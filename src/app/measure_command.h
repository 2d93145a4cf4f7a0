#pragma once

#include "app/sound_order.h"

namespace loftbeat::app {

// `loftbeat sound PLAN --measure`: reckons instead of playing. The table goes to standard output,
// unless the JSON or the page does; errors go to standard error, one line each. Needs a plan, a
// church and people in it. Returns the exit code.
[[nodiscard]] int run_measure(const SoundOrder& order);

}  // namespace loftbeat::app
