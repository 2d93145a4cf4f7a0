#pragma once

// Private to plan/: what a pass is wished to sound like, and when its stops are moved.

#include <optional>
#include <string>

#include "base/toml_document.h"
#include "plan/plan.h"

namespace loftbeat::plan {

// Absent: nothing. What is wrong is noted at the item.
[[nodiscard]] std::optional<Wish> wish_from(const TomlItem& item);
[[nodiscard]] std::optional<MovesAt> moves_at_from(const TomlItem& item);
// Names of stops; absent: none.
[[nodiscard]] std::vector<std::string> stop_names_from(const TomlItem& item);

// The right-hand sides as they stand in a file.
[[nodiscard]] std::string toml_of(const Wish& wish);
[[nodiscard]] std::string to_string(const MovesAt& moves);

}  // namespace loftbeat::plan
