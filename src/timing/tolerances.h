#pragma once

namespace loftbeat::timing {

// What the literature says about timing, and what follows from it for the judgements here. The
// defaults of plan::Tolerances rest on these figures; tests/reference/timing checks that they do.

// Smallest shift of a single tone in an even row that is noticed: 6 ms below an interval of about
// 240 ms, 2.5 % of the interval above (Friberg & Sundberg 1995, J. Acoust. Soc. Am. 98:2524,
// abstract). The authors' report of 1992 (STL-QPSR 4/1992) gives 10 ms and 5 % for the same
// experiment, so that 2.5 to 5 % is the band in which a shift becomes noticeable.
inline constexpr double kShiftNoticedPercent = 2.5;
inline constexpr double kShiftPlainPercent = 5.0;
inline constexpr double kShiftNoticedMs = 6.0;
// Worked number: at 60 beats a minute (1000 ms) 25 ms, at 120 (500 ms) 12.5 ms.
[[nodiscard]] constexpr double shift_noticed_ms(double interval_ms) {
  const double share = interval_ms * kShiftNoticedPercent / 100;
  return share < kShiftNoticedMs ? kShiftNoticedMs : share;
}

// Two onsets are told apart in their order with great certainty from 60 ms on (75 % at 22 ms:
// experiment page of a performance-analysis project; Hirsh 1959 has about 20 ms, from memory).
inline constexpr double kOrderSureMs = 60.0;

// Standard deviation of onset differences in good ensembles of three: 27 to 49 ms by piece,
// typically 30 to 50 ms (Rasch 1979, Acustica 43:121, quoted in a thesis).
inline constexpr double kEnsembleTypicalLowMs = 30.0;
inline constexpr double kEnsembleTypicalHighMs = 50.0;

// Smallest change of tempo noticed, in percent, by the number of intervals heard: one 6, two 4,
// four 3.2, six 3; at best 1.5 (Drake & Botte 1993, Perception & Psychophysics 54:277, abstract).
inline constexpr double kTempoNoticedOneInterval = 6.0;
inline constexpr double kTempoNoticedTwoIntervals = 4.0;
inline constexpr double kTempoNoticedFourIntervals = 3.2;
inline constexpr double kTempoNoticedSixIntervals = 3.0;

// Standard deviation of single taps in percent of the interval: 3 to 6, trained musicians 2 to 4
// (Repp 2005, Psychonomic Bulletin & Review 12:969; figures from memory).
inline constexpr double kTappingSpreadHighPercent = 6.0;

// A breath at a phrase end adds at most half a beat (common practice, no source).
inline constexpr double kLongestBreathBeats = 0.5;

// Verdicts are given with twice the standard uncertainty (about 95 % for one normal figure).
inline constexpr double kCoverage = 2.0;

}  // namespace loftbeat::timing
