#pragma once

#include <initializer_list>

#include "practice/review.h"

namespace loftbeat::report {

// Whether a finding speaks of that pass, alone or among others.
[[nodiscard]] bool concerns(const practice::Finding& finding, int pass);

// Which figure of which pass or join the findings speak of: those are flagged wherever shown.
[[nodiscard]] bool pass_has(const practice::Review& review, int pass,
                            std::initializer_list<practice::FindingKind> kinds);
[[nodiscard]] bool join_has(const practice::Review& review, int join,
                            std::initializer_list<practice::FindingKind> kinds);

}  // namespace loftbeat::report
