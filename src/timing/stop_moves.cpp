#include "timing/stop_moves.h"

#include <cmath>

#include "timing/robust.h"

namespace loftbeat::timing {
namespace {

bool reaches(const StopMovement& movement, const JoinMeasures& join) {
  const Measured<double> beat = beat_s(join);
  const double reach = kJoinReachBeats * (beat ? *beat : 1);
  return seconds(movement.last) >= join.last_onset_s - reach &&
         seconds(movement.first) <= join.onset_s + reach;
}

int nearest_join(const StopMovement& movement, const std::vector<JoinMeasures>& joins) {
  int nearest = -1;
  double best = 0;
  for (std::size_t i = 0; i < joins.size(); ++i) {
    if (!reaches(movement, joins[i])) continue;
    const double away = std::abs(seconds(movement.last) - joins[i].onset_s);
    if (nearest >= 0 && away >= best) continue;
    nearest = static_cast<int>(i);
    best = away;
  }
  return nearest;
}

Measured<double> middle(std::vector<double> errors, const char* none) {
  if (errors.empty()) return Measured<double>::unknown(none);
  return median(std::move(errors));
}

}  // namespace

std::vector<StopMovement> movements_of(const std::vector<Instant>& messages) {
  std::vector<StopMovement> movements;
  for (std::size_t i = 0; i < messages.size(); ++i) {
    if (movements.empty() || messages[i] - movements.back().last > kOneMovement)
      movements.push_back({i, i, messages[i], messages[i]});
    movements.back().end = i + 1;
    movements.back().last = messages[i];
  }
  return movements;
}

std::vector<PlacedMovement> place_movements(const std::vector<StopMovement>& movements,
                                            const std::vector<JoinMeasures>& joins,
                                            double stamp_s) {
  std::vector<PlacedMovement> placed;
  for (std::size_t i = 0; i < movements.size(); ++i) {
    PlacedMovement place{i, nearest_join(movements[i], joins), MoveSide::before};
    if (place.join >= 0) {
      const double entry = joins[static_cast<std::size_t>(place.join)].onset_s;
      if (seconds(movements[i].last) > entry + stamp_s) place.side = MoveSide::after;
    }
    placed.push_back(place);
  }
  return placed;
}

Measured<double> beat_s(const JoinMeasures& join) {
  if (!join.span_beats) return Measured<double>::unknown(join.span_beats.reason);
  const double span_s = join.onset_s - join.last_onset_s;
  if (!(*join.span_beats > 0) || !(span_s > 0))
    return Measured<double>::unknown("the join has no length");
  return span_s / *join.span_beats;
}

Measured<double> join_error_ms(const JoinMeasures& join) {
  Measured<double> beat = beat_s(join);
  if (!beat) return beat;
  if (join.planned_span_beats) return (*join.span_beats - *join.planned_span_beats) * *beat * 1000;
  if (!join.likeness_beats) return Measured<double>::unknown(join.likeness_beats.reason);
  return *join.likeness_beats * *beat * 1000;
}

MoveComparison compare_joins(const std::vector<JoinMeasures>& joins,
                             const std::vector<bool>& moved) {
  std::vector<double> with;
  std::vector<double> without;
  for (std::size_t i = 0; i < joins.size(); ++i) {
    const Measured<double> error = join_error_ms(joins[i]);
    if (error) (moved[i] ? with : without).push_back(*error);
  }
  MoveComparison comparison;
  comparison.joins_with = static_cast<int>(with.size());
  comparison.joins_without = static_cast<int>(without.size());
  comparison.with_ms = middle(std::move(with), "no join with a movement can be judged");
  comparison.without_ms = middle(std::move(without), "no join without a movement can be judged");
  return comparison;
}

}  // namespace loftbeat::timing
