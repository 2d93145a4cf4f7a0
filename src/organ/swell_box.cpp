#include "organ/swell_box.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace loftbeat::organ {

double box_level_db(const SwellBox& box, double position) {
  return box.closed_db * (1 - std::clamp(position, 0.0, 1.0));
}

double box_cutoff_hz(const SwellBox& box, double position) {
  const double shut = 1 - std::clamp(position, 0.0, 1.0);
  return shut > 0 ? box.closed_hz / shut : std::numeric_limits<double>::infinity();
}

double box_gain_db(const SwellBox& box, double position, double hz) {
  const double ratio = hz / box_cutoff_hz(box, position);
  const double squared = ratio * ratio;
  return box_level_db(box, position) - 10 * std::log10(1 + squared * squared);
}

}  // namespace loftbeat::organ
