#include "music/words.h"

#include <algorithm>
#include <map>
#include <utility>

namespace loftbeat::music {
namespace {

int lowest_verse(const std::vector<Syllable>& words) {
  int lowest = words.empty() ? 0 : words.front().verse;
  for (const Syllable& syllable : words) lowest = std::min(lowest, syllable.verse);
  return lowest;
}

// Index of the phrase that holds `at`; 0 where there are none.
std::size_t phrase_of(const Score& score, Tick at) {
  const auto after = std::upper_bound(score.phrases.begin(), score.phrases.end(), at,
                                      [](Tick t, const Phrase& p) { return t < p.span.begin; });
  return after == score.phrases.begin()
             ? 0
             : static_cast<std::size_t>(after - score.phrases.begin()) - 1;
}

// Where verses agree that a line begins: by capital letters and the stops before them.
class LineBegins {
 public:
  explicit LineBegins(const std::vector<Syllable>& words) {
    std::map<int, const Syllable*> before;  // by verse
    for (const Syllable& syllable : words) {
      const Syllable*& last = before[syllable.verse];
      Count& count = counts_[syllable.at];
      ++count.verses;
      count.cut = count.cut || (last != nullptr && last->goes_on);
      const bool capital = syllable.text[0] >= 'A' && syllable.text[0] <= 'Z';
      if (last != nullptr && capital && !last->goes_on) {
        ++count.capitals;
        count.stop = count.stop || ends_with_stop(last->text);
      }
      last = &syllable;
    }
  }

  // Whether all verses begin a word there.
  [[nodiscard]] bool word_at(Tick at) const {
    const auto found = counts_.find(at);
    return found != counts_.end() && !found->second.cut;
  }

  // How many of the syllables at these places are a line of their own, 0 if all are one line.
  [[nodiscard]] std::size_t middle_of(const std::vector<Tick>& places) const {
    std::size_t best = 0;
    int most = 0;
    for (std::size_t i = kShortestLine;
         places.size() > kLongestLine && i + kShortestLine <= places.size(); ++i) {
      const auto found = counts_.find(places[i]);
      if (found == counts_.end() || found->second.capitals <= most) continue;
      const Count& count = found->second;
      if (count.verses < 2 || !count.stop || count.capitals * 5 < count.verses * 3) continue;
      best = i;
      most = count.capitals;
    }
    return best;
  }

  static constexpr std::size_t kLongestLine = 11;

 private:
  static constexpr std::size_t kShortestLine = 4;
  struct Count {
    int verses = 0;
    int capitals = 0;
    bool stop = false;
    bool cut = false;  // a word goes on there
  };
  static bool ends_with_stop(const std::string& text) {
    return std::string_view(".,;:!?").find(text.back()) != std::string_view::npos;
  }
  std::map<Tick, Count> counts_;
};

}  // namespace

std::string short_text(std::string_view text, std::size_t most) {
  const auto is_space = [](char c) { return static_cast<unsigned char>(c) <= ' ' || c == '\x7F'; };
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  if (text.size() > most) {
    while (most > 0 && (static_cast<unsigned char>(text[most]) & 0xC0) == 0x80) --most;
    text = text.substr(0, most);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  }
  std::string plain;
  for (const char c : text) {
    if (!is_space(c)) {
      plain.push_back(c);
    } else if (plain.back() != ' ') {
      plain.push_back(' ');
    }
  }
  return plain;
}

std::string joined_syllables(const std::string& first, const std::string& second) {
  if (first.empty()) return second;
  return short_text(first + " " + second, kMaxSyllableBytes);
}

void put_in_order(std::vector<Syllable>& words) {
  std::stable_sort(words.begin(), words.end(), [](const Syllable& a, const Syllable& b) {
    return std::pair(a.at, a.verse) < std::pair(b.at, b.verse);
  });
  std::vector<Syllable> kept;
  for (Syllable& syllable : words) {
    if (syllable.text.empty()) continue;
    const bool again =
        !kept.empty() && kept.back().at == syllable.at && kept.back().verse == syllable.verse;
    if (!again) {
      kept.push_back(std::move(syllable));
      continue;
    }
    kept.back().text = kept.back().goes_on
                           ? short_text(kept.back().text + syllable.text, kMaxSyllableBytes)
                           : joined_syllables(kept.back().text, syllable.text);
    kept.back().goes_on = syllable.goes_on;
  }
  words = std::move(kept);
}

std::vector<std::string> lines_of_words(const Score& score) {
  std::vector<std::string> lines(std::max<std::size_t>(score.phrases.size(), 1));
  const int verse = lowest_verse(score.words);
  std::vector<bool> open(lines.size(), false);
  for (const Syllable& syllable : score.words) {
    if (syllable.verse != verse) continue;
    const std::size_t line = phrase_of(score, syllable.at);
    if (!lines[line].empty() && !open[line]) lines[line] += ' ';
    lines[line] += syllable.text;
    open[line] = syllable.goes_on;
  }
  return lines;
}

std::vector<int> syllables_by_line(const Score& score) {
  if (score.words.empty() || score.phrases.empty()) return {};
  std::vector<std::vector<Tick>> phrases(score.phrases.size());
  const int verse = lowest_verse(score.words);
  for (const Syllable& syllable : score.words)
    if (syllable.verse == verse) phrases[phrase_of(score, syllable.at)].push_back(syllable.at);
  const LineBegins begins(score.words);
  std::map<std::size_t, std::size_t> alike;  // by length: where phrases of it are two lines
  for (std::size_t p = 1; p < phrases.size(); ++p) {
    const std::size_t both = phrases[p - 1].size() + phrases[p].size();
    if (both > LineBegins::kLongestLine) alike.emplace(both, phrases[p - 1].size());
  }
  for (const std::vector<Tick>& places : phrases)
    if (const std::size_t middle = begins.middle_of(places)) alike[places.size()] = middle;
  std::vector<int> counts;
  for (const std::vector<Tick>& places : phrases) {
    std::size_t middle = begins.middle_of(places);
    const auto other = alike.find(places.size());
    if (middle == 0 && other != alike.end() && other->second > 0 && other->second < places.size() &&
        begins.word_at(places[other->second]))
      middle = other->second;
    if (middle > 0) counts.push_back(static_cast<int>(middle));
    counts.push_back(static_cast<int>(places.size() - middle));
  }
  return counts;
}

}  // namespace loftbeat::music
