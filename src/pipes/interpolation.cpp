#include "pipes/interpolation.h"

#include <cmath>
#include <numbers>

namespace loftbeat::pipes {
namespace {

double sinc(double x) { return x == 0 ? 1 : std::sin(x) / x; }

}  // namespace

double cubic_power(double cycles) {
  constexpr double kNoLossBelow = 0.01;  // there the formula is a difference of like numbers
  if (cycles < kNoLossBelow) return 1;
  const double w = 2 * std::numbers::pi * cycles;
  const double half = sinc(w / 2);
  const double own = sinc(w);
  const double smooth = 12 / (w * w) * (half * half - own);
  const double sharpened = -4 / (w * w) * (3 * own * own - 2 * own - sinc(2 * w));
  const double amplitude = smooth + sharpened;
  return amplitude * amplitude;
}

}  // namespace loftbeat::pipes
