#include "advise/player_times.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::advise {

double used_factor(const PlayerTimes::Learned& learned) {
  constexpr double kTableWeight = 3;
  if (learned.observations < kFewestObservations || !(learned.factor > 0)) return 1;
  const auto n = static_cast<double>(learned.observations);
  return std::pow(std::clamp(learned.factor, 1.0 / 3, 3.0), n / (n + kTableWeight));
}

}  // namespace loftbeat::advise
