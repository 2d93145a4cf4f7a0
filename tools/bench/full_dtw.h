#pragma once

#include <bitset>
#include <cstddef>
#include <utility>
#include <vector>

#include "music/score.h"
#include "plan/route.h"
#include "take/take.h"

namespace loftbeat::bench {

// Full dynamic time warping, written as plainly as it is taught: every chord of the take is
// compared with every chord of the whole planned route, in a matrix that is kept until the path is
// traced back. Time and memory grow with the product of the two lengths. It stands here only to be
// compared with; nothing of Loftbeat uses it. It knows nothing of restarts, of passes not planned,
// of octaves or of other keys.

using Pitches = std::bitset<128>;

// One step of the path: which score chord and which played chord belong together.
using Pair = std::pair<std::size_t, std::size_t>;

// Chords of the route as planned, one for each score onset of each pass.
[[nodiscard]] std::vector<Pitches> score_chords(const music::Score& score,
                                                const plan::Route& route);

// Chords of the take: a note begun within 60 ms of a chord's first note belongs to that chord.
[[nodiscard]] std::vector<Pitches> played_chords(const take::CleanTake& take);

// 0 for equal sets, 1 for sets without a common pitch: one minus shared over all pitches.
[[nodiscard]] float distance(const Pitches& a, const Pitches& b);

// The cheapest path from the first pair to the last. Requires both lists not empty.
// Worked example: {C} {D} {E} against {C} {C} {D} {E} gives (0,0) (0,1) (1,2) (2,3).
[[nodiscard]] std::vector<Pair> full_dtw(const std::vector<Pitches>& score,
                                         const std::vector<Pitches>& played);

}  // namespace loftbeat::bench
