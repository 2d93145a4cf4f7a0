// Where practices stand on the calendar.

#include <gtest/gtest.h>

#include "window/look_back/trend_layout.h"

namespace loftbeat::window {
namespace {

practice::PracticeFigures practised(const std::string& when, double join_ms) {
  practice::PracticeFigures figures;
  figures.when = when;
  figures.join_error_ms = join_ms;
  return figures;
}

TEST(TrendLayout, DaysAreCountedByTheCalendar) {
  // Worked by hand: 2026-02-27 to 2026-03-01 are two days, since 2026 is no leap year.
  EXPECT_DOUBLE_EQ(days_of("2026-03-01 09:00") - days_of("2026-02-27 09:00"), 2);
  EXPECT_DOUBLE_EQ(days_of("2026-03-01 12:00") - days_of("2026-03-01 00:00"), 0.5);
  EXPECT_EQ(days_of("not a day"), 0);
}

TEST(TrendLayout, APauseIsSeenAndLessIsLower) {
  practice::TuneHistory history;
  history.practices = {practised("2026-11-01 09:00", 200), practised("2026-11-02 09:00", 100),
                       practised("2026-11-22 09:00", 50)};
  history.practices[1].join_error_ms = Measured<double>::unknown("no join");
  history.practices.push_back(practised("2026-11-23 09:00", 0));
  const Trend trend =
      lay_out_trend(history, &practice::PracticeFigures::join_error_ms, 60, TrendFrame{});
  ASSERT_EQ(trend.points.size(), 3U);
  const double whole = trend.points[2].x - trend.points[0].x;
  // 21 of 22 days.
  EXPECT_NEAR((trend.points[1].x - trend.points[0].x) / whole, 21.0 / 22, 1e-9);
  EXPECT_LT(trend.points[0].y, trend.points[1].y);
  EXPECT_DOUBLE_EQ(trend.points[2].y, trend.zero);
  // Linear: 60 lies at 60/200 of the way to the largest.
  EXPECT_NEAR((trend.zero - trend.tolerated) / (trend.zero - trend.points[0].y), 0.3, 1e-9);
}

}  // namespace
}  // namespace loftbeat::window
