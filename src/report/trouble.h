#pragma once

#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::report {

// Notes that went wrong, counted by pass and bar as played. An extra note has no place in the
// score: it counts in the bar of the last beat played before it.
struct BarTrouble {
  int wrong = 0;  // extra notes
  int missed = 0;
};

struct TroubleTable {
  std::vector<std::string> bars;                // as printed
  std::vector<std::vector<BarTrouble>> passes;  // [pass][bar]
  int most = 0;                                 // largest single count
};

[[nodiscard]] TroubleTable count_trouble(const practice::Review& review);

}  // namespace loftbeat::report
