#pragma once

#include <optional>
#include <span>

namespace loftbeat::hearing {

// The value that is exceeded for `percent` of the time (N5: the loud moments, N95: the soft
// ones), by straight interpolation between the sorted values. Range: 0 to 100. None without values.
// These are percentiles of steady-sound loudness over short windows, Loftbeat's own figure, and
// not the time-varying loudness of ISO 532-1.
// Example: 1 2 3 4 5, exceeded 25 % of the time -> 4.
[[nodiscard]] std::optional<double> exceeded_for(std::span<const double> values, double percent);

}  // namespace loftbeat::hearing
