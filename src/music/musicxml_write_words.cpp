#include "music/musicxml_write_words.h"

#include <algorithm>
#include <map>
#include <set>

namespace loftbeat::music {
namespace {

// The first syllable of the verse after `at`; nothing if none follows.
const Syllable* next_syllable(const Score& score, int verse, Tick at) {
  auto syllable = std::upper_bound(score.words.begin(), score.words.end(), at,
                                   [](Tick t, const Syllable& s) { return t < s.at; });
  while (syllable != score.words.end() && syllable->verse != verse) ++syllable;
  return syllable == score.words.end() ? nullptr : &*syllable;
}

// Whether each line that ends in this verse is read back as the phrase that it is.
bool tells_lines(const Score& score, const WritingPlan& plan, int verse) {
  std::size_t phrase = 0;
  for (std::size_t n = 0; n < score.notes.size(); ++n) {
    if (!plan.signs[n].line_end) continue;
    const Tick onset = score.notes[n].onset;
    while (phrase < score.phrases.size() && score.phrases[phrase].span.end <= onset) ++phrase;
    if (phrase == score.phrases.size()) return false;
    const Syllable* next = next_syllable(score, verse, onset);
    if (next != nullptr && next->at != score.phrases[phrase].span.end) return false;
  }
  return true;
}

int choose_line_verse(const Score& score, const WritingPlan& plan) {
  std::set<int> verses;
  for (const Syllable& syllable : score.words) verses.insert(syllable.verse);
  for (const int verse : verses)
    if (tells_lines(score, plan, verse)) return verse;
  return verses.empty() ? 1 : std::min(*verses.rbegin() + 1, kMaxVerses);
}

}  // namespace

void place_words(const Score& score, WritingPlan& plan) {
  std::size_t n = 0;
  std::map<int, bool> open;  // by verse: its last word goes on
  for (const Syllable& syllable : score.words) {
    while (n < score.notes.size() && score.notes[n].onset < syllable.at) ++n;
    std::size_t chosen = n;
    for (std::size_t i = n; i < score.notes.size() && score.notes[i].onset == syllable.at; ++i)
      if (score.notes[i].voice < score.notes[chosen].voice) chosen = i;
    if (chosen < score.notes.size() && score.notes[chosen].onset == syllable.at)
      plan.signs[chosen].words.push_back({syllable, open[syllable.verse]});
    open[syllable.verse] = syllable.goes_on;
  }
  plan.line_verse = choose_line_verse(score, plan);
}

}  // namespace loftbeat::music
