#pragma once

#include "base/base.h"

namespace loftbeat::notate {

// What speaks against giving keys to parts, as costs; all are assumptions about four-part hymns.

// One part at some place: the key that it has, or none yet.
struct PartNow {
  int key = -1;  // into the struck keys; -1: silent so far
  int pitch = 60;
  Tick at = 0;
  Tick released = 0;
};

// How far a part goes from one note to its next. The bass leaps more readily.
[[nodiscard]] double leap_cost(int from, int to, bool bass);
// Outside a part's usual compass, of `voices` parts.
[[nodiscard]] double compass_cost(int pitch, int voice, int voices);
// A part goes on to a new note at `at`: its old key was released far too early, or is held over.
[[nodiscard]] double touch_cost(const PartNow& part, Tick at);
// Two neighbouring parts, the upper one first; `upper_struck`, `lower_struck`: begun at `at`.
[[nodiscard]] double crossing_cost(const PartNow& upper, const PartNow& lower, Tick at);

inline constexpr double kSharedCost = 1.2;     // two parts on one key
inline constexpr double kAddedCost = 5.0;      // a part with more than one key
inline constexpr double kFirstNoteCost = 1.5;  // a part that comes in later
inline constexpr double kPedalCost = 6.0;      // a foot's key that is not the lowest part's
inline constexpr double kTakenAwayCost = 3.0;  // a part strikes the key that another one holds

}  // namespace loftbeat::notate
