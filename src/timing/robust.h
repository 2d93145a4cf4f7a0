#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace loftbeat::timing {

// Estimators that a few odd values cannot turn. All are deterministic and take their values by
// copy where they have to sort.

// Mean of the middle two if even. Requires values not empty. {3, 1, 10, 2} -> 2.5.
[[nodiscard]] double median(std::vector<double> values);

// Mean of the middle half: a quarter of the values (rounded down) is dropped at either end.
// Requires values not empty. {0, 1, 2, 3, 100} -> 2; {0, 0, 1, 1} -> 0.5.
[[nodiscard]] double midmean(std::vector<double> values);

// 1.4826 times the median distance from `centre`: estimates the standard deviation of normal
// values. {0, 1, 2, 3, 100} about 2: distances 2 1 0 1 98, median 1 -> 1.4826.
[[nodiscard]] double robust_spread(const std::vector<double>& values, double centre);

// Half the distance between the quartiles (linear between ranks). {1, 2, 3, 4, 5} -> 1.
[[nodiscard]] double half_quartile_distance(std::vector<double> values);

// A point on a line: x in beats, t in seconds. Points of different segments share the slope but
// not the level (a breath lies between them). Segments are numbered upwards.
struct LinePoint {
  double x = 0;
  double t = 0;
  int segment = 0;
};

struct Slope {
  double value = 0;        // seconds a beat
  double uncertainty = 0;  // standard uncertainty of `value`
  double leverage = 0;     // the uncertainty that a scatter of 1 would give
  double scatter = 0;      // robust standard deviation of the points about their lines, seconds
  std::size_t pairs = 0;   // slopes of which `value` is the median
};

// Theil-Sen: the median of the slopes of all pairs of points in the same segment that are at most
// `reach` places apart (so linear in the number of points for a fixed reach). Nothing if there is
// no pair. Points are sorted by x within a segment.
// Worked number: x 0 1 2 3, t 0 1 2 6: slopes 1 1 1 2 2.5 4 -> 1.5.
// Uncertainty: scatter / sqrt(sum of squared distances from the segment's mean x), as for least
// squares, times 1.15: under normal noise Theil-Sen scatters more, by repeated trial 1.03 times for
// one line of 32 beats, 1.10 for lines of eight, 1.15 for lines of four.
inline constexpr std::size_t kReach = 64;
[[nodiscard]] std::optional<Slope> theil_sen(std::span<const LinePoint> points,
                                             std::size_t reach = kReach);

}  // namespace loftbeat::timing
