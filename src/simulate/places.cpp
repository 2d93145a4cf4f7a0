#include "simulate/places.h"

#include <algorithm>

#include "simulate/script.h"

namespace loftbeat::simulate {

std::vector<Tick> onset_ticks(const music::Score& score) {
  std::vector<Tick> ticks;
  for (const music::Note& note : score.notes) {
    if (ticks.empty() || ticks.back() != note.onset) ticks.push_back(note.onset);
  }
  return ticks;
}

Tick next_onset(const std::vector<Tick>& onsets, Tick tick, Tick end) {
  const auto next = std::upper_bound(onsets.begin(), onsets.end(), tick);
  return next == onsets.end() || *next > end ? end : *next;
}

namespace {

bool near_phrase_edge(const std::vector<TickSpan>& phrases, Tick tick, Tick room) {
  return std::any_of(phrases.begin(), phrases.end(), [&](const TickSpan& phrase) {
    return tick > phrase.begin - room && tick < phrase.begin + room;
  });
}

}  // namespace

Tick quiet_beat(const Piece& piece, TickSpan span, Random& random) {
  const Tick beat = plan::ticks(piece.plan.beat);
  const std::vector<TickSpan> phrases = phrases_of(piece);
  std::vector<Tick> found;
  Tick nearest_middle = span.begin;
  for (const Tick tick : onset_ticks(piece.score)) {
    if (!span.contains(tick)) continue;
    if (tick <= span.begin + span.length() / 2) nearest_middle = tick;
    const bool on_beat = (tick - music::bar_at(piece.score, tick).start) % beat == 0;
    if (on_beat && tick >= span.begin + 2 * beat && tick + 4 * beat <= span.end &&
        !near_phrase_edge(phrases, tick, beat + 1)) {
      found.push_back(tick);
    }
  }
  return found.empty() ? nearest_middle : found[random.below(found.size())];
}

}  // namespace loftbeat::simulate
