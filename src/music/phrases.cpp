#include "music/phrases.h"

#include <algorithm>
#include <iterator>

namespace loftbeat::music {
namespace {

// The first onset at or after `at`, or the end of the score.
Tick next_onset(const Score& score, Tick at) {
  auto note = std::lower_bound(score.notes.begin(), score.notes.end(), at,
                               [](const Note& n, Tick t) { return n.onset < t; });
  return note == score.notes.end() ? score.length : note->onset;
}

std::vector<Phrase> divide(const Score& score, const std::vector<Tick>& ends) {
  std::vector<Tick> begins;
  std::transform(ends.begin(), ends.end(), std::back_inserter(begins),
                 [&](Tick end) { return next_onset(score, end); });
  std::sort(begins.begin(), begins.end());
  std::vector<Phrase> phrases;
  Tick begin = 0;
  const Tick first = next_onset(score, 0);
  for (const Tick next : begins) {
    if (next <= std::max(begin, first) || next >= score.length) continue;
    phrases.push_back({{begin, next}});
    begin = next;
  }
  phrases.push_back({{begin, score.length}});
  return phrases;
}

}  // namespace

void find_phrases(Score& score, const LineEnds& ends) {
  const std::pair<PhraseSource, const std::vector<Tick>*> sources[] = {
      {PhraseSource::lyric_lines, &ends.lyric_lines},
      {PhraseSource::fermatas, &ends.fermatas},
      {PhraseSource::breath_marks, &ends.breath_marks},
      {PhraseSource::double_bars, &ends.double_bars}};
  score.phrases.clear();
  score.phrase_source = PhraseSource::none;
  for (const auto& [source, places] : sources) {
    std::vector<Phrase> phrases = divide(score, *places);
    if (phrases.size() < 2) continue;
    score.phrases = std::move(phrases);
    score.phrase_source = source;
    return;
  }
}

}  // namespace loftbeat::music
