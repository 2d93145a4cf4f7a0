#pragma once

#include <optional>
#include <vector>

namespace loftbeat::window {

// A tempo that is tapped: the median of the last intervals, so that one clumsy tap does not count.
class TempoTap {
 public:
  // Two seconds without a tap begin anew (slower than 30 a minute).
  static constexpr double kForgetSeconds = 2.1;

  // Beats a minute, once there are three taps. Worked number: taps at 0, 0.8 and 1.6 s: 75.
  std::optional<double> tap(double at_s);

 private:
  std::vector<double> taps_;
};

}  // namespace loftbeat::window
