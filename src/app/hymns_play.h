#pragma once

#include <vector>

#include "app/hymns_command.h"
#include "practice/hymn.h"

namespace loftbeat::app {

[[nodiscard]] std::vector<const practice::TuneOutline*> outlines_of(
    const std::vector<const practice::Hymn*>& hymns);

// Listens to the inputs and names each tune when the playing pauses, until Enter; returns the exit
// code.
int play_to_name(const HymnsOrder& order, const std::vector<const practice::Hymn*>& hymns);

}  // namespace loftbeat::app
