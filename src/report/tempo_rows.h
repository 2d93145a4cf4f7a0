#pragma once

#include <optional>
#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::report {

// The tempo of each pass on one scale of beats a minute, with the set tempo as a line and the
// tempi that pass for it as a band.

struct TempoFrame {
  double width = 960;
  double left = 100;   // room for the names of the passes
  double right = 110;  // room for the figures
};

struct TempoRow {
  std::string name;
  std::string figure;
  double y = 0;
  std::optional<double> x;  // nothing where the tempo is not known
  double x_low = 0;         // ends of its uncertainty
  double x_high = 0;
};

struct TempoRows {
  double width = 0;
  double height = 0;
  double set = 0;  // x of the set tempo
  double band_begin = 0;
  double band_end = 0;
  std::vector<TempoRow> rows;
  std::vector<std::pair<double, std::string>> scale;  // x and beats a minute
};

[[nodiscard]] TempoRows lay_out_tempi(const practice::Review& review, const TempoFrame& frame);

}  // namespace loftbeat::report
