#pragma once

#include <string>
#include <vector>

#include "practice/review.h"
#include "report/table.h"

namespace loftbeat::report {

// What the terminal text and the page tell of stop moves.

// One row for each movement at a join, and for each that is missing; no rows where nothing is
// known.
[[nodiscard]] Table stop_table(const practice::Review& review);

// What moved and how it went: what the table cannot hold, the joins with movements against those
// without; or in one sentence why nothing is judged.
[[nodiscard]] std::vector<std::string> stop_lines(const practice::Review& review);

}  // namespace loftbeat::report
