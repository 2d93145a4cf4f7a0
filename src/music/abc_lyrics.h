#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "music/abc_report.h"
#include "music/abc_voice.h"

namespace loftbeat::music {

// The number that a verse begins with: 9 of "9.~The golden"; 0 if there is none from 1 to 200.
[[nodiscard]] int abc_verse_number(std::string_view text);

// The text of one voice, laid under its notes syllable by syllable as w: has it. Lines of w: that
// follow each other with no note between are verses; their lines end as told at parse_abc.
class AbcLyrics {
 public:
  AbcLyrics(AbcReport& report, AbcBudget& budget) : report_(report), budget_(budget) {}

  // One w: field. Takes the notes that wait in `voice`. `at` is where the text begins.
  void line(std::string_view text, AbcVoice& voice, AbcPlace at);
  // Writes the syllables to the bars of the voice, line ends found.
  void finish(AbcVoice& voice);
  // The highest verse number with text, 0 if none.
  [[nodiscard]] int verses() const { return verses_; }

 private:
  struct Syllable {
    std::uint32_t note = 0;  // index into Block::notes
    std::uint8_t verse = 1;
    bool cut = false;       // the word goes on
    bool capital = false;   // begins with one
    bool stop = false;      // ends with a comma or the like
    bool line_end = false;  // found by finish
    std::string words;
  };
  // One line of music and the verses under it.
  struct Block {
    std::vector<AbcSung> notes;
    std::vector<Syllable> syllables;  // verse by verse
    int verses = 0;
  };
  class Aligner;

  void find_line_ends(Block& block, const Block* next) const;
  static void find_inner_ends(Block& block);

  AbcReport& report_;
  AbcBudget& budget_;
  std::vector<Block> blocks_;
  std::map<int, int> numbers_;  // as printed, by place below the notes
  int verses_ = 0;
  bool punctuated_ = false;
};

}  // namespace loftbeat::music
