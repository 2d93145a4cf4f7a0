#pragma once

#include "music/score.h"
#include "music/smf_score_meta.h"

namespace loftbeat::music {

// More bars than this are refused.
inline constexpr std::size_t kMaxSmfBars = 100'000;

// Fills score.bars and score.length from the metres of the file; requires the notes sorted.
//
// A file does not say that a bar is a pickup. It is taken for one if the first time signature
// holds for one bar only and that is shorter than the next: 1/4 and then 4/4. With a pickup the
// last bar may be short by as much. A first bar that begins with rests for half its length or
// more keeps them, and is numbered 0. A time signature within a bar cuts it short.
// Error (too_large): more than kMaxSmfBars bars.
[[nodiscard]] Status lay_bars(Score& score, const SmfScoreMeta& meta, const std::string& name);

}  // namespace loftbeat::music
