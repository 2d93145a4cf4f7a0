#include "music/smf_score_bars.h"

#include <fmt/format.h>

#include <algorithm>

namespace loftbeat::music {
namespace {

Tick end_of_notes(const Score& score) {
  Tick end = 0;
  for (const Note& note : score.notes) end = std::max(end, note.onset + note.length);
  return end;
}

// Bars of one metre from where the last bar ended up to `end`. False if there are too many.
bool add_bars(Score& score, const SmfMetre& metre, Tick end) {
  while (score.length < end) {
    if (score.bars.size() == kMaxSmfBars) return false;
    Bar bar;
    bar.start = score.length;
    bar.beats = metre.beats;
    bar.beat_type = metre.beat_type;
    bar.length = metre.bar();
    score.length += bar.length;
    score.bars.push_back(bar);
  }
  return true;
}

// The next metre begins inside the last bar.
void cut_last_bar(Score& score, Tick at) {
  if (score.length <= at || score.bars.empty()) return;
  score.bars.back().length = at - score.bars.back().start;
  score.length = at;
}

// Where metre `i` hands over to the next.
Tick end_of_metre(const std::vector<SmfMetre>& metres, std::size_t i, Tick end) {
  return i + 1 < metres.size() ? std::min(metres[i + 1].at, end) : end;
}

void find_pickup(Score& score) {
  if (score.bars.size() < 2) return;
  Bar& first = score.bars[0];
  const Bar& second = score.bars[1];
  const Tick full = 4 * kTicksPerQuarter * second.beats / second.beat_type;
  if (first.length >= full || first.length >= second.length) return;
  first.beats = second.beats;
  first.beat_type = second.beat_type;
  first.pickup = true;
}

// The pickup is often taken from the last bar.
void shorten_last_bar(Score& score, Tick end) {
  Bar& last = score.bars.back();
  if (!score.bars.front().pickup || score.bars.size() < 2) return;
  const Tick wanted = last.length - score.bars.front().length;
  if (wanted <= 0 || end > last.start + wanted) return;
  last.length = wanted;
  score.length = last.start + wanted;
}

void number_bars(Score& score) {
  const Bar& first = score.bars.front();
  const Tick rest = score.notes.empty() ? 0 : score.notes.front().onset;
  const bool late = rest * 2 >= first.length && rest < first.length;
  std::size_t number = first.pickup || late ? 0 : 1;
  for (Bar& bar : score.bars) bar.number = std::to_string(number++);
}

}  // namespace

Status lay_bars(Score& score, const SmfScoreMeta& meta, const std::string& name) {
  const Tick end = std::max<Tick>(end_of_notes(score), 1);
  for (std::size_t i = 0; i < meta.metres.size(); ++i) {
    cut_last_bar(score, meta.metres[i].at);
    if (!add_bars(score, meta.metres[i], end_of_metre(meta.metres, i, end))) {
      return Error{ErrorKind::too_large,
                   fmt::format("has more than {} bars.", kMaxSmfBars),
                   name,
                   0,
                   0,
                   "Check its time signatures and its length."};
    }
  }
  find_pickup(score);
  shorten_last_bar(score, end);
  number_bars(score);
  return {};
}

}  // namespace loftbeat::music
