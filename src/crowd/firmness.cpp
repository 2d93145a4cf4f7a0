#include "crowd/firmness.h"

#include <cmath>
#include <utility>

namespace loftbeat::crowd {

void Firmness::interval(double seconds_a_beat) {
  const auto before = std::exchange(last_, seconds_a_beat);
  if (!before || seconds_a_beat > 2 * *before || seconds_a_beat < *before / 2) return;
  const double mean = (seconds_a_beat + *before) / 2;
  const double step = (seconds_a_beat - *before) / mean;
  mean_square_ += (step * step / 2 - mean_square_) / 8;
}

void Firmness::release(Touch touch) {
  clear_ += ((touch == Touch::clear ? 1.0 : 0.0) - clear_) / 16;
}

double Firmness::scatter() const { return std::sqrt(mean_square_); }

double Firmness::value() const {
  const double scatter_in_half = scatter() / 0.05;
  return (0.5 + 0.5 * clear_) / (1 + scatter_in_half * scatter_in_half);
}

}  // namespace loftbeat::crowd
