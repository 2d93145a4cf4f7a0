#include "timing/robust.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace loftbeat::timing {

namespace {

constexpr double kNormalFromMedianDeviation = 1.4826;
constexpr double kTheilSenLoss = 1.15;

std::ptrdiff_t offset(std::size_t index) { return static_cast<std::ptrdiff_t>(index); }

double at_rank(std::vector<double>& values, double rank) {
  const auto low = static_cast<std::size_t>(rank);
  std::nth_element(values.begin(), values.begin() + offset(low), values.end());
  const double below = values[low];
  const double share = rank - static_cast<double>(low);
  if (share <= 0) return below;
  const double above = *std::min_element(values.begin() + offset(low) + 1, values.end());
  return below + share * (above - below);
}

std::vector<double> pair_slopes(std::span<const LinePoint> points, std::size_t reach) {
  std::vector<double> slopes;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::size_t end = std::min(points.size(), i + reach + 1);
    for (std::size_t j = i + 1; j < end && points[j].segment == points[i].segment; ++j) {
      const double dx = points[j].x - points[i].x;
      if (dx > 0) slopes.push_back((points[j].t - points[i].t) / dx);
    }
  }
  return slopes;
}

// Residuals about the segments' own levels, and what they say of the slope.
struct Residuals {
  std::vector<double> values;
  double sum_squares_x = 0;
  std::size_t levels = 0;
};

void add_segment(std::span<const LinePoint> segment, double slope, Residuals& out) {
  if (segment.size() < 2) return;
  std::vector<double> levels;
  double mean_x = 0;
  for (const LinePoint& p : segment) {
    levels.push_back(p.t - slope * p.x);
    mean_x += p.x / static_cast<double>(segment.size());
  }
  const double level = midmean(levels);
  for (std::size_t i = 0; i < segment.size(); ++i) {
    out.values.push_back(levels[i] - level);
    out.sum_squares_x += (segment[i].x - mean_x) * (segment[i].x - mean_x);
  }
  ++out.levels;
}

Residuals residuals(std::span<const LinePoint> points, double slope) {
  Residuals out;
  std::size_t begin = 0;
  for (std::size_t i = 1; i <= points.size(); ++i) {
    if (i < points.size() && points[i].segment == points[begin].segment) continue;
    add_segment(points.subspan(begin, i - begin), slope, out);
    begin = i;
  }
  return out;
}

}  // namespace

double median(std::vector<double> values) {
  assert(!values.empty());
  const double rank = (static_cast<double>(values.size()) - 1) / 2;
  return at_rank(values, rank);
}

double midmean(std::vector<double> values) {
  assert(!values.empty());
  std::sort(values.begin(), values.end());
  const std::size_t dropped = values.size() / 4;
  double sum = 0;
  for (std::size_t i = dropped; i < values.size() - dropped; ++i) sum += values[i];
  return sum / static_cast<double>(values.size() - 2 * dropped);
}

double robust_spread(const std::vector<double>& values, double centre) {
  if (values.empty()) return 0;
  std::vector<double> distances;
  distances.reserve(values.size());
  for (double v : values) distances.push_back(std::abs(v - centre));
  return kNormalFromMedianDeviation * median(std::move(distances));
}

double half_quartile_distance(std::vector<double> values) {
  if (values.empty()) return 0;
  const double last = static_cast<double>(values.size()) - 1;
  const double low = at_rank(values, last * 0.25);
  const double high = at_rank(values, last * 0.75);
  return (high - low) / 2;
}

std::optional<Slope> theil_sen(std::span<const LinePoint> points, std::size_t reach) {
  std::vector<double> slopes = pair_slopes(points, reach);
  if (slopes.empty()) return std::nullopt;
  Slope slope;
  slope.pairs = slopes.size();
  slope.value = median(std::move(slopes));
  const Residuals rest = residuals(points, slope.value);
  const auto n = static_cast<double>(rest.values.size());
  const double free = std::max(1.0, n - static_cast<double>(rest.levels) - 1);
  slope.scatter = robust_spread(rest.values, 0) * std::sqrt(n / free);
  slope.leverage = kTheilSenLoss / std::sqrt(rest.sum_squares_x);
  slope.uncertainty = slope.leverage * slope.scatter;
  return slope;
}

}  // namespace loftbeat::timing
