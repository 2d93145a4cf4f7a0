#pragma once

#include "app/options.h"

namespace loftbeat::app {

// Reads, reviews and writes what was asked for. The text for the terminal goes to standard
// output, unless the JSON or the page does. Errors go to standard error, one line each. Returns
// the exit code.
[[nodiscard]] int run_review(const ReviewOrder& order);

}  // namespace loftbeat::app
