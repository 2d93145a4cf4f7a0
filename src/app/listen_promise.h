#pragma once

#include <string>

#include "app/listen_work.h"
#include "practice/review.h"
#include "take/take.h"

namespace loftbeat::app {

// The play-over's strength and brightness against verse 1's, by the stops that were drawn in each
// as it began: "loudness 38 and 52 sone, sharpness 1.21 and 1.35 acum". Why not, where it cannot be
// told.
[[nodiscard]] std::string promise_sound_words(const ListenWork& work,
                                              const practice::Review& review,
                                              const take::Take& take);

}  // namespace loftbeat::app
