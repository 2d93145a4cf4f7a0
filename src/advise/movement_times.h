#pragma once

#include <string>
#include <vector>

#include "advise/stop_verdicts.h"

namespace loftbeat::advise {

// How long the player's own movements took in a take, against the tables. Pure; any thread.

// One movement seen, measured over tabled. Worked number: the hand went 0.90 s after its last key
// to a knob that the tables reach in 0.60 s, and the way back was not seen: ratio 1.5.
struct MovementTime {
  organ::Side side = organ::Side::unknown;  // unknown for pistons
  Handling handling = Handling::draw;
  double ratio = 1;  // kLeastRatio to kMostRatio
  friend bool operator==(const MovementTime&, const MovementTime&) = default;
};
// Beyond these something else than the movement was measured: a hand that waited, or one that was
// free already. (The same bounds as those of used_factor.)
inline constexpr double kLeastRatio = 1.0 / 3;
inline constexpr double kMostRatio = 3;

// Movements at joins, before the entry, of which all controls are known: one go on one side, or one
// thumb piston. Two ways can be seen:
//   out    from the last release of the hand's key in the chord to the first message. Not where the
//          stops moved before that: that hand was free.
//   back   from the last message to the hand's first key of the next pass; only where the join was
//          late, since who is in time may have waited for the beat.
// Each must lie within the bounds above; the ratio is that of their sums. The left hand has the
// lowest key of the chord, the right hand the highest, pedal keys left out; where either hand may
// have gone, the hand that left last and came first. The eyes' time is no part of it: eyes go while
// the hand still plays. Time that a hand waits for no reason is taken for slowness, which errs on
// the safe side. Helpers' movements are not the player's: none.
[[nodiscard]] std::vector<MovementTime> movement_times(const StopQuestion& question);

// Median of the ratios by side and kind, and how many there are.
[[nodiscard]] PlayerTimes learned_from(const std::vector<MovementTime>& times);

// "drawing on the left 1.22 times the tabled time (3 seen)", one for each that is used, with
// commas; empty if none is seen often enough.
[[nodiscard]] std::string player_times_words(const PlayerTimes& player);

}  // namespace loftbeat::advise
