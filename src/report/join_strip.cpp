#include "report/join_strip.h"

#include <algorithm>
#include <cmath>

#include "report/words.h"

namespace loftbeat::report {
namespace {

constexpr double kHeight = 74;
constexpr double kMostBeats = 64;  // a longer rest between two verses is cut off at the edge

bool shown(const Measured<double>& figure) { return figure && std::isfinite(*figure); }

double entry_beats(const timing::JoinMeasures& join) {
  return std::max(shown(join.span_beats) ? *join.span_beats : 0.0,
                  shown(join.planned_span_beats) ? *join.planned_span_beats : 0.0);
}

// The tolerance is told in milliseconds; the span, known both in beats and in seconds, converts.
std::optional<double> tolerance_beats(const timing::JoinMeasures& join) {
  const double span_s = join.onset_s - join.last_onset_s;
  if (!shown(join.tolerance_ms) || !shown(join.span_beats) || !(span_s > 0)) return std::nullopt;
  return *join.tolerance_ms / 1000 / span_s * *join.span_beats;
}

}  // namespace

double strip_beats(const practice::Review& review) {
  double beats = 4;
  for (const timing::JoinMeasures& join : review.timing.joins) {
    beats = std::max(beats, entry_beats(join) + 0.5);
  }
  return std::min(beats, kMostBeats);
}

JoinRow lay_out_join(const practice::Review& review, const timing::JoinMeasures& join, double beats,
                     const StripFrame& frame) {
  JoinRow row;
  row.name = join_name(review, join);
  row.width = frame.width;
  row.height = kHeight;
  row.left = frame.left;
  row.right = frame.width - frame.right;
  const auto x = [&](double at) {
    return row.left + std::clamp(at / beats, 0.0, 1.0) * (row.right - row.left);
  };
  const int every = beats > 24 ? 4 : 1;
  for (int beat = 0; beat <= beats; beat += every) {
    row.beat_lines.push_back(x(beat));
    row.beat_names.push_back(std::to_string(beat));
  }
  if (shown(join.planned_hold_beats)) {
    row.planned_hold = Stretch{x(0), x(*join.planned_hold_beats)};
  }
  if (shown(join.planned_span_beats)) {
    row.planned_entry = x(*join.planned_span_beats);
    if (const auto tolerance = tolerance_beats(join)) {
      row.tolerance = Stretch{x(*join.planned_span_beats - *tolerance),
                              x(*join.planned_span_beats + *tolerance)};
    }
  }
  if (shown(join.hold_beats)) row.played_hold = Stretch{x(0), x(*join.hold_beats)};
  if (shown(join.span_beats)) row.played_entry = x(*join.span_beats);
  return row;
}

}  // namespace loftbeat::report
