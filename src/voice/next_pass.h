#pragma once

#include <cstddef>
#include <optional>

#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::voice {

// When one pass follows another, as a model player keeps it.

// The join planned after route pass `index`; where none is planned, the bars run on.
[[nodiscard]] plan::RouteJoin join_in_force(const plan::Plan& plan, const music::Score& score,
                                            const plan::Route& route, std::size_t index);

// How a pass ends, in seconds from its begin.
struct PassEnd {
  double length = 0;                 // as written
  std::optional<double> last_onset;  // of its last chord; nothing where the pass is silent
};

// The beats of silence between two passes that no join plans, from the end of the former.
inline constexpr double kUnplannedLiftBeats = 2;

// When the pass after `index` begins, in seconds from the begin of this one; after the last, its
// length. Worked number: 60 a minute, last chord at 12 s, join "3+1": 16 s.
[[nodiscard]] double next_begin(const plan::Plan& plan, const music::Score& score,
                                const plan::Route& route, std::size_t index, const PassEnd& end,
                                double beat_seconds);

}  // namespace loftbeat::voice
