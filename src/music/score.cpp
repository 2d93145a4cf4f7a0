#include "music/score.h"

#include <algorithm>
#include <cassert>

namespace loftbeat::music {

const Bar& bar_at(const Score& score, Tick at) {
  assert(!score.bars.empty());
  auto after = std::upper_bound(score.bars.begin(), score.bars.end(), at,
                                [](Tick t, const Bar& bar) { return t < bar.start; });
  if (after == score.bars.begin()) return score.bars.front();
  return *std::prev(after);
}

double beat_in_bar(const Score& score, Tick at, Tick beat) {
  const Bar& bar = bar_at(score, at);
  const Tick full = 4 * kTicksPerQuarter * bar.beats / bar.beat_type;
  const Tick missing = bar.pickup ? full - bar.length : 0;
  return 1.0 + static_cast<double>(at - bar.start + missing) / static_cast<double>(beat);
}

}  // namespace loftbeat::music
