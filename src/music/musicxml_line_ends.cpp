#include "music/musicxml_line_ends.h"

#include <algorithm>
#include <utility>

namespace loftbeat::music {
namespace {

bool begins_before(const TickSpan& a, const TickSpan& b) {
  return std::pair(a.begin, a.end) < std::pair(b.begin, b.end);
}

// The note struck last among those that end at each bar line; the empty span if none does.
std::vector<TickSpan> last_notes(const std::vector<Tick>& bar_lines, const Score& score) {
  std::vector<std::pair<Tick, Tick>> by_end;  // end, onset
  for (const Note& note : score.notes) by_end.emplace_back(note.onset + note.length, note.onset);
  std::sort(by_end.begin(), by_end.end());
  std::vector<TickSpan> spans;
  for (const Tick end : bar_lines) {
    const auto after = std::upper_bound(by_end.begin(), by_end.end(), std::pair(end, end));
    const bool found = after != by_end.begin() && std::prev(after)->first == end;
    spans.push_back({found ? std::prev(after)->second : end, end});
  }
  return spans;
}

}  // namespace

std::vector<Tick> lyric_line_ends(std::vector<PlayedLyric> lyrics) {
  std::stable_sort(lyrics.begin(), lyrics.end(), [](const PlayedLyric& a, const PlayedLyric& b) {
    return a.note.begin < b.note.begin;
  });
  std::vector<Tick> ends;
  for (std::size_t i = 0; i < lyrics.size(); ++i) {
    if (!lyrics[i].line_end) continue;
    // Two syllables on one note, as where a tie is meant for some verses only, part nothing.
    const bool sung_on = i + 1 < lyrics.size() && lyrics[i + 1].text &&
                         lyrics[i + 1].note.begin > lyrics[i].note.begin;
    ends.push_back(sung_on ? lyrics[i + 1].note.begin : lyrics[i].note.end);
  }
  return ends;
}

std::vector<Tick> place_fermatas(PlayedFermatas fermatas, Score& score) {
  std::vector<TickSpan> spans = std::move(fermatas.notes);
  if (!fermatas.bar_lines.empty()) {
    const std::vector<TickSpan> more = last_notes(fermatas.bar_lines, score);
    spans.insert(spans.end(), more.begin(), more.end());
  }
  std::sort(spans.begin(), spans.end(), begins_before);
  std::vector<Tick> ends;
  for (const TickSpan& span : spans) {
    if (!ends.empty() && (span.begin < ends.back() || span.end == ends.back())) {
      score.fermatas.back().at = span.begin;
      ends.back() = std::max(ends.back(), span.end);
    } else {
      score.fermatas.push_back({span.begin});
      ends.push_back(span.end);
    }
  }
  return ends;
}

}  // namespace loftbeat::music
