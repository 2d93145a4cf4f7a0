#pragma once

#include <vector>

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// Verse joins: from the last chord of one pass to the first onset of the next of the same run
// (false starts passed over).
//
// span: from the last chord's median onset to the next pass's first median onset, in beats of the
// ended pass's pulse at its end (before the slowing, if it slowed there). If the last or first
// onset of the tune was not struck, the nearest that was stands for it, moved by its written
// distance (at most two beats). hold and lift: last onset to last release, and from there to the
// next onset, in the same beats. The error against the planned span is told in two parts: count =
// the whole number that it lies within a quarter of, else its whole part; phase = the rest.
// Worked numbers: planned 5, played 6.1 beats at 1 s: count 1, phase +0.1 = 100 ms; played 5.54:
// count 0, phase +0.54 = 540 ms.
//
// In time: |phase| within the larger of join_ms (60 ms) and join_percent (5 %) of the planned span.
// Beyond that by no more than its standard uncertainty, or within twice that altogether:
// cannot_tell. Worked number: planned 4 beats of 0.8 s = 3.2 s: in time within 160 ms; with an
// uncertainty of 20 ms surely late beyond 180 ms.
// tolerance_ms is the largest of the three. A pulse that is broken is early or late by the sign of
// the whole error.
//
// Standard uncertainty: the jitter of both passes, the lattice of the stamps (uniform: half width
// over root three), and over the span the uncertainty of the period and half the difference
// between the pulse at the end and over the whole pass, which both may have been the player's
// ruler.
//
// Without a plan only likeness is judged: against the median of the verse joins if there are three
// or more, else against the first. The join after the play-over and joins round an interlude stand
// apart. likeness_beats is always the difference to the first verse join.
//
// settling: beats from the new pass's first onset to the first struck beat from which two in a row
// lie within 5 % of a beat (or twice the jitter) of the new pulse.
[[nodiscard]] std::vector<JoinMeasures> measure_joins(const Question& question,
                                                      const std::vector<FittedPass>& passes);

// What a join was meant to be.
struct JoinPlan {
  Measured<double> span_beats;
  std::optional<plan::Join> join;
  bool after_play_over = false;
  bool with_interlude = false;
  bool comparable = true;  // false: stands apart from the other joins, or a verse lies between
};
// `before` and `after` are indices into Alignment::passes.
[[nodiscard]] JoinPlan plan_of_join(const Question& question, std::size_t before,
                                    std::size_t after);

// Median of the verse joins' spans to the nearest half beat; nothing if there is none.
// Worked number: spans 4.9, 5.2, 5.3 -> 5.0.
[[nodiscard]] std::optional<double> usual_span(const std::vector<JoinMeasures>& joins);

}  // namespace loftbeat::timing
