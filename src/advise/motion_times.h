#pragma once

namespace loftbeat::advise {

// Times of single motions of hand, eye and foot, from the tables of work study: MTM-1
// (Methods-Time Measurement). Unit there: 1 TMU = 1/100000 hour = 0.036 s.
//
// Source: the MTM-1 data card, inch edition as published, for reaching, moving, foot, leg; the
// card of 2019 for the unit. What is marked MEM below is from memory, unverified.
//
// They mean the steady pace of a working day; a practised player in a hurry is faster, a nervous
// one slower (see player_times.h for times of one's own).

inline constexpr double kSecondsPerTmu = 0.036;
[[nodiscard]] constexpr double seconds_from_tmu(double tmu) { return tmu * kSecondsPerTmu; }

// How a hand reaches for something.
enum class Reach {
  fixed,    // case A: always at the same place, or held by the other hand
  varying,  // case B: alone, its place a little different each time: a stop knob
  chosen,   // cases C and D: among others of its kind, or very small
  back,     // case E: to no exact place: back over the keys
};
// What the hand does with it.
enum class Carry {
  to_a_stop,  // case A: against a stop, as a knob is drawn
  nearby,     // case B: to about a place
  exactly,    // case C: to the very place
};

// TMU for so many centimetres, straight lines between the card's rows (1 to 10 inches by ones, to
// 30 by twos). Below 1 inch: 2.0 at 3/4 inch and less (MEM), 0 at 0 cm and less. Above 30 inches:
// on with the slope of the last two rows. Never falls with distance.
// Worked number: reach B, 40 cm = 15.748 in: 14.4 + (15.8 - 14.4) * 1.748 / 2 = 15.6 TMU = 0.562 s.
[[nodiscard]] double reach_tmu(Reach kind, double cm);
[[nodiscard]] double carry_tmu(Carry kind, double cm);

// Grasping and letting go.
inline constexpr double kGraspAloneTmu = 2.0;  // G1A, standing by itself; MEM
inline constexpr double kGraspFlatTmu = 3.5;   // G1B, very small or lying flat; MEM
inline constexpr double kTouchTmu = 0.0;       // G5, a touch is enough; MEM
inline constexpr double kLetGoTmu = 2.0;       // RL1, the fingers open; MEM
inline constexpr double kLiftOffTmu = 0.0;     // RL2, the touch ends; MEM
inline constexpr double kPressTmu = 10.6;      // APA, a press against resistance; MEM

// The eye: travel 15.2 T / D, at most 20; T the distance between the two things looked at, D that
// of the eye from the line between them, in one unit. Then it has to see: focus. Both MEM.
// Worked number: 50 cm apart, 60 cm away: 12.7 TMU = 0.456 s.
[[nodiscard]] double eye_travel_tmu(double apart_cm, double away_cm);
inline constexpr double kEyeFocusTmu = 7.3;

// The foot, hinged at the ankle, and with pressure. The leg: 7.1 to 15 cm and 0.5 for each
// centimetre beyond. Worked number: leg 20 cm: 7.1 + 2.5 = 9.6 TMU.
inline constexpr double kFootTmu = 8.5;
inline constexpr double kFootPressTmu = 19.1;
[[nodiscard]] double leg_tmu(double cm);

}  // namespace loftbeat::advise
