#pragma once

#include <vector>

#include "practice/review.h"

namespace loftbeat::practice {

// What went wrong in a take that is followed and measured (review.findings is not read).
//
// A finding needs a figure that surely exceeds its tolerance: by more than twice its standard
// uncertainty. Worked number: tempo tolerance 4 %, offset 4.5 % known to 0.4 %: no finding, since
// 4.5 - 2 * 0.4 < 4. Joins have their verdict already (timing/joins.h).
//
// One fault has one name. What follows from a fault is not told again: a play-over that slows at
// its end has no tempo, trend or evenness of its own to speak of; feet that come late also leave
// late; a held-over key is no ragged release.
//
// Findings of one kind, direction and bar in several passes become one, with verses_affected; it
// shows the worst of them. First come those of most verses, then by severity.
[[nodiscard]] std::vector<Finding> find_faults(const Review& review);

// How far a figure surely exceeds a tolerance of either sign: |figure| - 2 u > tolerance.
[[nodiscard]] bool surely_beyond(double figure, double tolerance, double uncertainty);

// The parts, unmerged. Each adds to `out`.
void find_speed_faults(const Review& review, std::vector<Finding>& out);
void find_join_faults(const Review& review, std::vector<Finding>& out);
void find_play_over_faults(const Review& review, std::vector<Finding>& out);
void find_limb_faults(const Review& review, std::vector<Finding>& out);
void find_release_faults(const Review& review, std::vector<Finding>& out);
void find_note_faults(const Review& review, std::vector<Finding>& out);
// After find_join_faults: a join that a stop move made late is told once, as that.
void find_stop_faults(const Review& review, std::vector<Finding>& out);

// True if the play-over slows at its end beyond tolerance.
[[nodiscard]] bool play_over_slows(const Review& review);

// Merges and orders; the sentences are written last (practice/sentences.h).
[[nodiscard]] std::vector<Finding> ranked(const Review& review, std::vector<Finding> findings);

}  // namespace loftbeat::practice
