#include "advise/motion_times.h"

#include <algorithm>
#include <array>
#include <cstddef>

namespace loftbeat::advise {
namespace {

constexpr double kCmPerInch = 2.54;

// Source: MTM-1 data card, inch edition; the first row (3/4 inch) is from memory, unverified.
struct Row {
  double inch;
  std::array<double, 4> reach;  // A, B, C or D, E
  std::array<double, 3> carry;  // A, B, C
};
constexpr std::array<Row, 21> kRows = {{
    {0.75, {2.0, 2.0, 2.0, 2.0}, {2.0, 2.0, 2.0}},
    {1, {2.5, 2.5, 3.6, 2.4}, {2.5, 2.9, 3.4}},
    {2, {4.0, 4.0, 5.9, 3.8}, {3.6, 4.6, 5.2}},
    {3, {5.3, 5.3, 7.3, 5.3}, {4.9, 5.7, 6.7}},
    {4, {6.1, 6.4, 8.4, 6.8}, {6.1, 6.9, 8.0}},
    {5, {6.5, 7.8, 9.4, 7.4}, {7.3, 8.0, 9.2}},
    {6, {7.0, 8.6, 10.1, 8.0}, {8.1, 8.9, 10.3}},
    {7, {7.4, 9.3, 10.8, 8.7}, {8.9, 9.7, 11.1}},
    {8, {7.9, 10.1, 11.5, 9.3}, {9.7, 10.6, 11.8}},
    {9, {8.3, 10.8, 12.2, 9.9}, {10.5, 11.5, 12.7}},
    {10, {8.7, 11.5, 12.9, 10.5}, {11.3, 12.2, 13.5}},
    {12, {9.6, 12.9, 14.2, 11.8}, {12.9, 13.4, 15.2}},
    {14, {10.5, 14.4, 15.6, 13.0}, {14.4, 14.6, 16.9}},
    {16, {11.4, 15.8, 17.0, 14.2}, {16.0, 15.8, 18.7}},
    {18, {12.3, 17.2, 18.4, 15.5}, {17.6, 17.0, 20.4}},
    {20, {13.1, 18.6, 19.8, 16.7}, {19.2, 18.2, 22.1}},
    {22, {14.0, 20.1, 21.2, 18.0}, {20.8, 19.4, 23.8}},
    {24, {14.9, 21.5, 22.5, 19.2}, {22.4, 20.6, 25.5}},
    {26, {15.8, 22.9, 23.9, 20.4}, {24.0, 21.8, 27.3}},
    {28, {16.7, 24.4, 25.3, 21.7}, {25.5, 23.1, 29.0}},
    {30, {17.5, 25.8, 26.7, 22.9}, {27.1, 24.3, 30.7}},
}};

template <typename Column>
double interpolated(double cm, Column column) {
  const double inch = cm / kCmPerInch;
  if (inch <= 0) return 0;
  if (inch <= kRows.front().inch) return column(kRows.front());
  std::size_t upper = 1;
  while (upper + 1 < kRows.size() && kRows[upper].inch < inch) ++upper;
  const Row& below = kRows[upper - 1];
  const Row& above = kRows[upper];
  const double share = (inch - below.inch) / (above.inch - below.inch);
  return column(below) + share * (column(above) - column(below));
}

}  // namespace

double reach_tmu(Reach kind, double cm) {
  const auto column = static_cast<std::size_t>(kind);
  return interpolated(cm, [column](const Row& row) { return row.reach[column]; });
}

double carry_tmu(Carry kind, double cm) {
  const auto column = static_cast<std::size_t>(kind);
  return interpolated(cm, [column](const Row& row) { return row.carry[column]; });
}

double eye_travel_tmu(double apart_cm, double away_cm) {
  constexpr double kMost = 20;
  if (apart_cm <= 0) return 0;
  if (away_cm <= 0) return kMost;
  return std::min(kMost, 15.2 * apart_cm / away_cm);
}

double leg_tmu(double cm) { return cm <= 0 ? 0 : 7.1 + 0.5 * std::max(0.0, cm - 15); }

}  // namespace loftbeat::advise
