#pragma once

#include "practice/review.h"
#include "report/table.h"

namespace loftbeat::report {

// The two tables that the terminal text and the page share.
[[nodiscard]] Table pass_table(const practice::Review& review);
[[nodiscard]] Table join_table(const practice::Review& review);

}  // namespace loftbeat::report
