#include "window/look_back/trend_layout.h"

#include <algorithm>
#include <chrono>
#include <cstdio>

namespace loftbeat::window {
namespace {

constexpr double kTrendTop = 14;
constexpr double kTrendFoot = 26;
constexpr double kDateRoom = 90;

}  // namespace

double days_of(const std::string& when) {
  int year = 0;
  unsigned month = 0;
  unsigned day = 0;
  int hour = 0;
  int minute = 0;
  if (std::sscanf(when.c_str(), "%d-%u-%u %d:%d", &year, &month, &day, &hour, &minute) != 5)
    return 0;
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                         std::chrono::day(day)};
  if (!date.ok()) return 0;
  const auto days = std::chrono::sys_days(date).time_since_epoch().count();
  return static_cast<double>(days) + (hour + minute / 60.0) / 24.0;
}

Trend lay_out_trend(const practice::TuneHistory& history, practice::FigureOfPractice figure,
                    double tolerated, const TrendFrame& frame) {
  Trend trend;
  trend.left = frame.left;
  trend.right = frame.width - frame.right;
  trend.zero = frame.height - kTrendFoot;
  if (history.practices.empty()) return trend;
  const double first = days_of(history.practices.front().when);
  const double span = days_of(history.practices.back().when) - first;
  double most = 1.25 * tolerated;
  for (const practice::PracticeFigures& one : history.practices)
    if (const auto& value = one.*figure) most = std::max(most, *value * 1.05);
  const auto y = [&](double value) { return trend.zero - (trend.zero - kTrendTop) * value / most; };
  trend.tolerated = y(tolerated);
  const double begin = frame.left + 16;
  const double room = trend.right - 16 - begin;
  double free_from = 0;
  for (std::size_t i = 0; i < history.practices.size(); ++i) {
    const practice::PracticeFigures& one = history.practices[i];
    const double x =
        span > 0 ? begin + room * (days_of(one.when) - first) / span : begin + room / 2;
    if (const auto& value = one.*figure) trend.points.push_back({i, x, y(*value)});
    if (x < free_from) continue;
    free_from = x + kDateRoom;
    trend.dates.push_back({x, one.when.substr(0, 10)});
  }
  return trend;
}

}  // namespace loftbeat::window
