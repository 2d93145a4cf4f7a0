#pragma once

#include <vector>

#include "organ/organ.h"

namespace loftbeat::advise {

// Where the controls of a console are, in centimetres seen from the bench: x to the right of the
// player's middle, y above the keys. Depth is left out: jambs mostly stand at an angle, so that all
// knobs are about as far in. All measures: common practice, no source.
//
//   hands      over the keys, 20 cm left and right of the middle
//   jambs      the innermost knob 65 cm from the middle; row 1 10 cm above the keys; rows 7 cm
//              apart, knobs of a row 6 cm apart
//   tabs       rows 35 cm above the keys, 5 cm apart; tabs 2.5 cm apart, the row in the middle
//   unknown    row and place not said are taken as the fourth; side not said: that far off, and
//              maybe on the other side than all else
//   music      the desk in the middle, 45 cm above the keys, 70 cm from the eye
inline constexpr double kHandCm = 20;
inline constexpr double kJambCm = 65;
inline constexpr double kJambRowCm = 10;
inline constexpr double kJambRowsApartCm = 7;
inline constexpr double kKnobsApartCm = 6;
inline constexpr double kTabRowCm = 35;
inline constexpr double kTabRowsApartCm = 5;
inline constexpr double kTabsApartCm = 2.5;
inline constexpr int kUnknownRow = 4;
inline constexpr int kUnknownPlace = 4;
inline constexpr double kDeskCm = 45;
inline constexpr double kEyeToDeskCm = 70;

// One control.
struct Spot {
  double x_cm = 0;
  double y_cm = 0;
  organ::Side side = organ::Side::unknown;
  int row = 0;
  int place = 0;
  bool known = false;  // side, row and place all said
};

// From the hand that takes it (the nearer one for tabs) over the keys.
[[nodiscard]] double reach_cm(const Spot& spot);
[[nodiscard]] double apart_cm(const Spot& a, const Spot& b);
// From the middle of the music desk.
[[nodiscard]] double from_desk_cm(const Spot& spot);

// An organ with its controls laid out once, for many questions. The organ must outlive it.
struct ConsoleMap {
  const organ::Organ* organ = nullptr;
  std::vector<Spot> stops;  // one for each of the organ's
  std::vector<Spot> couplers;
  std::vector<Spot> tremulants;
};
[[nodiscard]] ConsoleMap lay_out(const organ::Organ& organ);

}  // namespace loftbeat::advise
