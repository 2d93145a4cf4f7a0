#include "practice/hymn.h"

#include <algorithm>
#include <array>
#include <utility>

#include "music/musicxml_spelling.h"
#include "music/words.h"

namespace loftbeat::practice {
namespace {

void find_metre_of_words(const music::Score& score, Hymn& hymn) {
  if (!score.poetic_metre.empty()) {
    if (auto stated = music::parse_poetic_metre(score.poetic_metre)) {
      hymn.poetic_metre = std::move(*stated);
      hymn.metre_source = MetreSource::stated;
      return;
    }
  }
  const std::vector<int> lines = music::syllables_by_line(score);
  const bool sensible = lines.size() >= 2 && lines.size() <= music::kMostLinesOfVerse &&
                        std::all_of(lines.begin(), lines.end(), [](int syllables) {
                          return syllables >= 2 && syllables <= music::kMostSyllablesOfLine;
                        });
  if (!sensible) return;
  hymn.poetic_metre.lines = lines;
  hymn.metre_source = MetreSource::counted;
}

void find_bars(const music::Score& score, Hymn& hymn) {
  hymn.upbeat = !score.bars.empty() && score.bars.front().pickup;
  const std::size_t first = hymn.upbeat && score.bars.size() > 1 ? 1 : 0;
  hymn.bars = static_cast<int>(score.bars.size() - first);
  if (score.bars.empty()) return;
  hymn.beats = score.bars[first].beats;
  hymn.beat_type = score.bars[first].beat_type;
}

std::string pitch_words(int pitch, int fifths) {
  const music::SpelledPitch spelled = music::spell(pitch, fifths);
  std::string words(1, spelled.step);
  for (int i = 0; i < spelled.alter; ++i) words += "♯";
  for (int i = 0; i > spelled.alter; --i) words += "♭";
  return words + std::to_string(spelled.octave);
}

}  // namespace

Hymn hymn_of(const music::Score& score, std::string where) {
  Hymn hymn;
  hymn.where = std::move(where);
  hymn.title = music::short_text(score.title, kMostHymnText);
  hymn.tune = music::short_text(score.tune, kMostHymnText);
  hymn.first_line = music::short_text(music::lines_of_words(score).front(), kMostHymnText);
  find_metre_of_words(score, hymn);
  find_bars(score, hymn);
  if (!score.keys.empty()) {
    hymn.key_known = true;
    hymn.fifths = score.keys.front().fifths;
    hymn.minor = score.keys.front().minor;
  }
  hymn.phrases = static_cast<int>(score.phrases.size());
  hymn.verses = score.lyric_verses;
  const auto [low, high] = std::minmax_element(
      score.notes.begin(), score.notes.end(),
      [](const music::Note& a, const music::Note& b) { return a.pitch < b.pitch; });
  if (low != score.notes.end()) {
    hymn.lowest = low->pitch;
    hymn.highest = high->pitch;
  }
  hymn.outline = outline_of(score);
  return hymn;
}

std::string key_words(const Hymn& hymn) {
  if (!hymn.key_known) return "–";
  // From seven flats up in fifths; minor keys have the signature of the major a third above.
  constexpr std::array<const char*, 18> kNames{
      "C flat", "G flat", "D flat", "A flat",  "E flat",  "B flat",  "F",       "C",      "G", "D",
      "A",      "E",      "B",      "F sharp", "C sharp", "G sharp", "D sharp", "A sharp"};
  const int at = std::clamp(hymn.fifths, -7, 7) + 7 + (hymn.minor ? 3 : 0);
  return std::string(kNames[static_cast<std::size_t>(at)]) + (hymn.minor ? " minor" : " major");
}

std::string range_words(const Hymn& hymn) {
  return pitch_words(hymn.lowest, hymn.fifths) + "–" + pitch_words(hymn.highest, hymn.fifths);
}

std::string hymn_name(const Hymn& hymn) {
  if (!hymn.title.empty()) return hymn.title;
  return hymn.tune.empty() ? hymn.where : hymn.tune;
}

}  // namespace loftbeat::practice
