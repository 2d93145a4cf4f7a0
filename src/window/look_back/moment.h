#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include <QString>

#include "practice/review.h"

namespace loftbeat::window {

// A place in a take that one looks at: a beat of a pass, or a join. Values only.
struct Moment {
  int pass = -1;           // index into Alignment::passes
  int join = -1;           // index into Timing::joins; -1: it is a beat
  int beat = -1;           // index into PassMeasures::beats
  std::size_t bar = 0;     // index into Score::bars
  double hear_from_s = 0;  // in the take, a little before it
};

// How much before it a moment is heard from, in seconds.
inline constexpr double kLeadInS = 1.5;

[[nodiscard]] Moment moment_of_beat(const practice::Review& review, int pass, int beat);
[[nodiscard]] Moment moment_of_join(const practice::Review& review, int join);
// Where a finding happened: its join, its bar in its pass, else the beginning of the pass. Nothing
// where it speaks of no place.
[[nodiscard]] std::optional<Moment> moment_of_finding(const practice::Review& review,
                                                      const practice::Finding& finding);
// The beat that was sounding at that second of the take; nothing before the first.
[[nodiscard]] std::optional<Moment> moment_at(const practice::Review& review, double seconds);
// The same place one bar further (+1) or back (-1) in the same pass; nothing at its ends.
[[nodiscard]] std::optional<Moment> bar_beside(const practice::Review& review, const Moment& moment,
                                               int step);

// "Verse 2, bar 9, beat 3: 180 ms behind the set tempo."
[[nodiscard]] QString moment_words(const practice::Review& review, const Moment& moment);

// What went wrong in the moment's bar and pass: score notes that were missed, and how many keys
// were struck that are not in the score.
struct BarFaults {
  std::vector<int> missed;  // indices into Score::notes
  int wrong = 0;
};
[[nodiscard]] BarFaults faults_in_bar(const practice::Review& review, const Moment& moment);

}  // namespace loftbeat::window
