#pragma once

#include <string>
#include <vector>

#include "music/poetic_metre.h"
#include "music/score.h"
#include "practice/tune_outline.h"

namespace loftbeat::practice {

// Where a hymn's poetic metre comes from.
enum class MetreSource {
  none,     // neither stated nor to be counted
  stated,   // the file says it
  counted,  // by the syllables of the first verse, phrase by phrase
};

// What a list of hymns tells of one. Texts are at most kMostHymnText bytes.
struct Hymn {
  std::string where;       // the file, seen from the folder; "tunes.abc#3" for one of several
  std::string title;       // empty if the file has none
  std::string tune;        // the tune's own name; empty if it is not stated
  std::string first_line;  // of the words; empty if there are none
  music::PoeticMetre poetic_metre;
  MetreSource metre_source = MetreSource::none;
  bool key_known = false;
  int fifths = 0;  // -7 to 7, at the beginning
  bool minor = false;
  int beats = 4;  // the metre of the first full bar
  int beat_type = 4;
  bool upbeat = false;
  int bars = 0;  // as played once through, the upbeat not counted
  int phrases = 0;
  int verses = 0;  // with words
  int lowest = 0;  // MIDI keys of all voices
  int highest = 0;
  TuneOutline outline;
  friend bool operator==(const Hymn&, const Hymn&) = default;
};

inline constexpr std::size_t kMostHymnText = 200;

// Pure. Requires the invariants of Score.
[[nodiscard]] Hymn hymn_of(const music::Score& score, std::string where);

// "G major", "E minor", "B flat major"; "–" if the file does not say.
[[nodiscard]] std::string key_words(const Hymn& hymn);
// "C4–D5", by middle C = C4, spelt by the key.
[[nodiscard]] std::string range_words(const Hymn& hymn);
// What it is called in a list: title, else tune, else the file.
[[nodiscard]] std::string hymn_name(const Hymn& hymn);

}  // namespace loftbeat::practice
