#pragma once

// The numbers of the following model: log odds (natural logarithm) against a played note that
// has nothing to do with the tune. They are set by reasoning about how often each thing happens
// to a player, not fitted to a set of takes; the reasoning stands beside each.

namespace loftbeat::follow::cost {

// By Sound: foreign, neighbour, sounding, octave, tune_octave, chord, tune.
// The highest note of a moment tells most: a hymn's tune is on top, and a wrong top note is rare,
// while inner notes are free in many textures. About 25 keys are in play, so that a right note
// is worth up to ln 25 = 3.2.
inline constexpr double kTopNote[] = {-2.0, -1.0, 0.2, 0.6, 2.2, 2.0, 3.2};
inline constexpr double kInnerNote[] = {-1.0, -0.7, 0.2, 0.5, 1.0, 2.0, 2.4};
inline constexpr double kStruckAgain = -1.6;  // the same note of the same chord once more

// Going on.
inline constexpr double kTimingSlackS = 0.03;      // hands are not machines
inline constexpr double kTimingSlackShare = 0.25;  // of the written length
inline constexpr double kTooSoonLimit = 7.0;
inline constexpr double kTooLateLimit = 4.0;
inline constexpr double kBreathLimit = 1.5;  // the same where a phrase begins
inline constexpr double kSpeedGain = 0.35;   // share of a quaver's (or longer) new speed taken over
inline constexpr double kSkip = 1.0;         // an onset left out, and more for each note it has
inline constexpr double kSkipPerNote = 0.7;
inline constexpr double kSkipLimit = 4.0;
inline constexpr double kSkipInner = 0.6;  // an onset of inner voices alone

// Staying on a chord: free while it is being spread, then about 1 for each 60 ms.
inline constexpr double kChordSpreadS = 0.06;
inline constexpr double kStayPerS = 0.06;
inline constexpr double kStayLimit = 1.5;
inline constexpr double kStrikeAgain = 4.0;  // a chord left and struck once more
inline constexpr double kLateInChord = 1.0;  // its last note, rolled slowly or put right
inline constexpr double kInterleaveS = 0.15;
inline constexpr double kInterleave = 2.5;

// Jumps. A player begins again at a phrase, at the start, at a bar, at a beat, in that order of
// likelihood.
inline constexpr double kLink = 0.5;  // from the end of the tune to its start
inline constexpr double kLinkElsewhere =
    6.0;  // a jump of the route, taken in another pass than planned
inline constexpr double kJumpToStart = 9.0;
inline constexpr double kJumpToPhrase = 8.5;
inline constexpr double kJumpToBar = 11.0;
inline constexpr double kJumpToBeat = 13.0;
inline constexpr double kChangeLayer = 4.0;
inline constexpr double kEaseAfterSilence = 0.4;
inline constexpr double kEaseAfterHesitation = 0.55;

// Outside the tune: preludes, interludes, chatting with the fingers.
inline constexpr double kGoOutside = 10.0;
inline constexpr double kStayOutside = 0.1;
inline constexpr double kEaseFromOutside = 0.5;
inline constexpr double kResume = 4.0;       // back to where one left, after an ornament say
inline constexpr double kResumeAhead = 0.4;  // for each onset further on

// States that far behind the best are given up. Larger than any jump and a few wrong notes.
inline constexpr double kBeam = 24.0;

}  // namespace loftbeat::follow::cost
