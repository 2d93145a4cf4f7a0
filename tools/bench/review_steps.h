#pragma once

#include <cstddef>
#include <string_view>

#include "bench/long_take.h"

namespace loftbeat::bench {

struct Reviewed {
  std::size_t notes = 0;   // of the take, after hygiene
  std::size_t passes = 0;  // found
  double matched_share = 0;
};

// All that a review computes: the take read, cleaned, followed and measured. Nothing is printed.
// Ends the program with a message if the take cannot be reviewed: there is nothing to time then.
[[nodiscard]] Reviewed review_steps(const LongPiece& piece, std::string_view take_file);

}  // namespace loftbeat::bench
