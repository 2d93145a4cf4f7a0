#pragma once

#include "advise/plan_measures.h"
#include "app/sound_source.h"

namespace loftbeat::app {

// What the stops of each pass come to, church empty and with people. Requires a church and at least
// one person in `data`. Errors: a stop whose rank is in no recipe. About 10 ms a pass.
[[nodiscard]] Result<advise::PlanMeasures> measures_of(const PlannedSound& planned,
                                                       const SoundData& data);

}  // namespace loftbeat::app
