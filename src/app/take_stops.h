#pragma once

#include <vector>

#include "app/sound_data.h"
#include "app/sound_order.h"
#include "take/take.h"
#include "voice/performance.h"

namespace loftbeat::app {

// A take sounded with what the plan draws: where the take moves no stops of its own, each pass that
// is found in it (follow/) has the plan's registration for that pass, changed in the silence before
// it. Without a plan, or where --stops says what is drawn, one registration holds throughout. What
// could not be done is said in the notices.
[[nodiscard]] Result<voice::Performance> sound_of_take(const SoundOrder& order,
                                                       const SoundData& data,
                                                       const take::Take& take);

}  // namespace loftbeat::app
