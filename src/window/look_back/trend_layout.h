#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "practice/history.h"

namespace loftbeat::window {

// One figure of a tune over the weeks: values to geometry. Units are those of the drawing.

struct TrendFrame {
  double width = 700;
  double height = 150;
  double left = 70;
  double right = 20;
};

struct TrendPoint {
  std::size_t practice = 0;  // index into TuneHistory::practices
  double x = 0;
  double y = 0;
};

struct TrendDate {
  double x = 0;
  std::string day;  // "2026-11-27"
};

struct Trend {
  std::vector<TrendPoint> points;  // by time; practices that do not tell the figure are left out
  std::vector<TrendDate> dates;    // as many as have room
  double zero = 0;                 // y of 0
  double tolerated = 0;            // y of what is tolerated
  double left = 0;
  double right = 0;
};

// x goes by the calendar, so that a pause is seen; within a day by the order of the practices. The
// scale holds a quarter more than what is tolerated, or the largest figure.
[[nodiscard]] Trend lay_out_trend(const practice::TuneHistory& history,
                                  practice::FigureOfPractice figure, double tolerated,
                                  const TrendFrame& frame);

// Days since 1970-01-01 of "2026-11-27 09:18", hours as a fraction; 0 if it is no such time.
[[nodiscard]] double days_of(const std::string& when);

}  // namespace loftbeat::window
