#pragma once

#include <string>

#include "music/score.h"
#include "simulate/truth.h"

namespace loftbeat::simulate {

// The truth as JSON (two-space indent, trailing newline). Seconds count from the start of the take,
// quarters from the start of the score; what is unknown is null. Same truth, same bytes.
[[nodiscard]] std::string format_truth(const Truth& truth, const music::Score& score);

}  // namespace loftbeat::simulate
