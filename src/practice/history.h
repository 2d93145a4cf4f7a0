#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/measured.h"
#include "practice/practice_note.h"
#include "practice/review.h"

namespace loftbeat::practice {

// Many practices in a row: how a tune goes, and which needs work most. Pure; any thread.

// What is kept of one practice. Figures are unknown where the practice does not tell them (a drill
// of a join says nothing of drift).
struct PracticeFigures {
  std::string folder;  // name of the practice's folder
  std::string when;    // "2026-11-27 09:18"
  PracticeNote note;
  Measured<double> join_error_ms;       // median over joins of |count and phase together|
  Measured<double> join_spread_ms;      // half the distance of the quartiles of the signed errors
  Measured<double> steadiness_percent;  // median over passes
  Measured<double> end_drift_ms;        // median over passes of |drift at the end|
  int stops_clean = 0;
  int stops_at_fault = 0;  // heard, after the beat, left out though planned, or cost the beat
  int stops_cost_beat = 0;
};

// Of a review, with its stops judged. `when` as above. Worked number: joins 3 beats too long at 60
// a minute with +100 ms, and -40 ms: errors 3100 and 40, median 1570 ms.
[[nodiscard]] PracticeFigures figures_of(const Review& review, const PracticeNote& note,
                                         std::string folder, std::string when);

struct TuneHistory {
  std::string tune;
  std::string score;  // name of the score's file, without its ending: often what a tune is called
  std::vector<PracticeFigures> practices;  // by time; none made under clicks, none cold
  std::vector<PracticeFigures> cold;       // the days' first tries
  int under_clicks = 0;                    // left out
};

struct NotedPractice {
  std::string tune;
  std::string score;  // as in TuneHistory
  PracticeFigures figures;
};
// By tune, in the order of the alphabet. The order of `practices` does not matter.
[[nodiscard]] std::vector<TuneHistory> histories_of(std::vector<NotedPractice> practices);

// The value of one figure now: the median of the last kLately practices that tell it.
inline constexpr std::size_t kLately = 3;
using FigureOfPractice = Measured<double> PracticeFigures::*;
[[nodiscard]] Measured<double> lately(const TuneHistory& history, FigureOfPractice figure);
// Of the last kLately practices: share of the stop movements that were at fault.
[[nodiscard]] Measured<double> stops_at_fault_lately(const TuneHistory& history);

// How much a tune needs work: each figure of lately over what is tolerated (joins 60 ms, steadiness
// 6 %, end drift 300 ms, a quarter of the stop movements at fault), and of these the largest.
// 1 = at the tolerance. Never practised: nothing is known, and it comes before all others.
// The 300 ms: a good third of a beat at 72 a minute, which is when singers and organ part
// (assumption); the others are the plan's own tolerances (plan/plan.h), and a quarter of stop
// movements is an assumption.
inline constexpr double kToleratedJoinMs = 60;
inline constexpr double kToleratedSteadinessPercent = 6;
inline constexpr double kToleratedEndDriftMs = 300;
struct Need {
  double most = 0;
  enum class Of { nothing, joins, steadiness, end_drift, stops } of = Of::nothing;
  double figure = 0;  // in the figure's own unit: ms, percent, ms, percent
  bool practised = false;
};
[[nodiscard]] Need need_of(const TuneHistory& history);
// "2 joins in 3 are off by ..."; a sentence for the player.
[[nodiscard]] std::string need_sentence(const Need& need);

}  // namespace loftbeat::practice
