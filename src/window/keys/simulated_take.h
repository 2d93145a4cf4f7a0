#pragma once

#include <cstdint>
#include <string>

#include "base/result.h"

namespace loftbeat::window {

// Somebody who plays the plan's hymn, for trying things without a keyboard: as good players do,
// no two times alike. Writes the take to `to`. Errors: what readers say; the plan has no hymn that
// can be played.
[[nodiscard]] Status write_simulated_take(const std::string& plan_path, std::uint64_t seed,
                                          const std::string& to);

}  // namespace loftbeat::window
