#pragma once

// Power gain of second-order digital sections at 48 kHz. Private to hearing/.

#include <cmath>
#include <numbers>

#include "hearing/filter_bank.h"

namespace loftbeat::hearing {

struct Biquad {
  double b0;
  double b1;
  double b2;
  double a1;  // a0 is 1
  double a2;
};

inline constexpr double kNyquistHz = kSampleRateHz / 2;

// sin^2 of half the angle on the unit circle, the variable in which the power of a section is a
// quadratic. Unlike the cosine form it does not lose its digits at low frequencies.
inline double half_angle_power(double hz) {
  const double s = std::sin(std::numbers::pi * hz / kSampleRateHz);
  return s * s;
}

inline double polynomial_power(double c0, double c1, double c2, double phi) {
  const double sum = c0 + c1 + c2;
  return sum * sum - 4.0 * (c0 * c1 + 4.0 * c0 * c2 + c1 * c2) * phi + 16.0 * c0 * c2 * phi * phi;
}

inline double power_gain(const Biquad& s, double phi) {
  return polynomial_power(s.b0, s.b1, s.b2, phi) / polynomial_power(1.0, s.a1, s.a2, phi);
}

}  // namespace loftbeat::hearing
