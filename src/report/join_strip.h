#pragma once

#include <optional>
#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::report {

// The join strip: one row for each join, in beats of the ended pass's pulse from the onset of its
// last chord. Above, what was planned: chord, silence, entry; below, what was played. All rows
// share one scale, so that joins of one hymn lie under each other.

struct StripFrame {
  double width = 960;
  double left = 76;
  double right = 14;
};

struct Stretch {
  double begin = 0;  // x
  double end = 0;
};

struct JoinRow {
  std::string name;
  double width = 0;
  double height = 0;
  double left = 0;
  double right = 0;
  std::vector<double> beat_lines;
  std::vector<std::string> beat_names;  // "0", "1" ...
  std::optional<Stretch> planned_hold;  // the chord; the gap follows to planned_entry
  std::optional<double> planned_entry;
  std::optional<Stretch> tolerance;  // in which an entry is in time
  std::optional<Stretch> played_hold;
  std::optional<double> played_entry;
};

// Beats that the scale of all rows holds.
[[nodiscard]] double strip_beats(const practice::Review& review);

[[nodiscard]] JoinRow lay_out_join(const practice::Review& review, const timing::JoinMeasures& join,
                                   double beats, const StripFrame& frame);

}  // namespace loftbeat::report
