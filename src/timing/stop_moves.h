#pragma once

#include <cstddef>
#include <vector>

#include "timing/measures.h"

namespace loftbeat::timing {

// Movements at the stops, as far as time goes: what a console sends becomes movements, movements
// find their joins, and joins with a movement are compared with joins without. What was moved, and
// what it means, is judged in advise/. Pure; any thread.

// Messages that follow one another within this time are one movement, the bound itself included: a
// piston sends many, and so does a hand that sweeps along a row.
inline constexpr Nanoseconds kOneMovement = std::chrono::milliseconds(150);

// One movement: the messages [begin, end) of the list, from the first instant to the last.
struct StopMovement {
  std::size_t begin = 0;
  std::size_t end = 0;
  Instant first;
  Instant last;
};

// `messages` must not fall. Every message is in exactly one movement; within a movement no two
// neighbours are more than kOneMovement apart, and between movements all are.
// Worked number: 0, 150, 301 ms: two movements, of two messages and of one.
[[nodiscard]] std::vector<StopMovement> movements_of(const std::vector<Instant>& messages);

// Where a movement lies. It belongs to a join if any of it lies between so many beats before the
// last chord of the pass that ends and so many after the entry of the next, both bounds included;
// where two joins are that near, to the one whose entry is nearer. A bar of four is as far as a
// player looks ahead at a join (common practice, no source). All else is inside a pass, or before
// or after the playing: no join is judged by it.
inline constexpr double kJoinReachBeats = 4;

enum class MoveSide {
  before,  // it ended at the entry or sooner
  after,   // it ended after the entry
};
struct PlacedMovement {
  std::size_t movement = 0;  // index into the movements
  int join = -1;             // index into the joins, or -1
  MoveSide side = MoveSide::before;
};
// One for each movement, in order. `stamp_s`: uncertainty of the stamps; what lies within it of the
// entry is still before it.
[[nodiscard]] std::vector<PlacedMovement> place_movements(
    const std::vector<StopMovement>& movements, const std::vector<JoinMeasures>& joins,
    double stamp_s);

// Seconds of a beat in the pass that a join ends; unknown where the join's span is.
[[nodiscard]] Measured<double> beat_s(const JoinMeasures& join);

// By how much a join came too late (positive) or too early, in ms, whole beats included: against
// the plan, or where none is planned against the first verse join. Unknown likewise.
// Worked number: planned 5 beats, played 5.5 of 0.8 s: +400 ms.
[[nodiscard]] Measured<double> join_error_ms(const JoinMeasures& join);

// The medians of those errors.
struct MoveComparison {
  int joins_with = 0;  // with a movement, and an error that is known
  int joins_without = 0;
  Measured<double> with_ms;
  Measured<double> without_ms;
};
// `moved[i]` says whether join i has a movement; as many as joins.
[[nodiscard]] MoveComparison compare_joins(const std::vector<JoinMeasures>& joins,
                                           const std::vector<bool>& moved);

}  // namespace loftbeat::timing
