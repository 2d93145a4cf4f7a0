#include <cassert>

#include "plan/places.h"
#include "plan/route.h"

namespace loftbeat::plan {
namespace {

Tick floor_divide(Tick a, Tick b) { return a >= 0 ? a / b : -((-a + b - 1) / b); }

// By the bar: the bar lines of the ended pass run on at the distance of its last bar's metre, and
// the next pass enters where its first note stands in its own bar. Of these entries the one taken
// is the last that does not come after the written end, so that the chord is cut short; unless
// that would leave it less than half of its written length: then the next one, and the chord is
// lengthened. Extra bars come on top.
Tick ticks_by_the_bar(int extra_bars, const music::Score& score, Tick last_onset, TickSpan last,
                      Tick next_begin) {
  const music::Bar& bar = music::bar_at(score, last.end - 1);
  const Tick full = full_length(bar);
  const Tick bar_line = bar.start - (bar.pickup ? full - bar.length : 0);
  const Tick first_entry = bar_line + place_in_metre(score, next_begin) - last_onset;
  const Tick written = last.end - last_onset;
  Tick span = first_entry + full * floor_divide(written - first_entry, full);
  if (2 * span < written) span += full;
  return span + full * extra_bars;
}

}  // namespace

double join_span_beats(const Join& join, const music::Score& score, BeatUnit beat, Tick last_onset,
                       TickSpan last, Tick next_begin) {
  if (join.kind == JoinKind::hold_and_lift) return join.hold_beats + join.lift_beats;
  assert(last.begin <= last_onset && last_onset < last.end);
  const Tick span = ticks_by_the_bar(join.extra_bars, score, last_onset, last, next_begin);
  return static_cast<double>(span) / static_cast<double>(ticks(beat));
}

}  // namespace loftbeat::plan
