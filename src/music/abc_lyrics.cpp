#include "music/abc_lyrics.h"

#include <algorithm>

#include "music/abc_text.h"
#include "music/words.h"

namespace loftbeat::music {
namespace {

using std::string_view_literals::operator""sv;

// Quotes and brackets that may stand before a word or behind its comma.
constexpr std::string_view kWrapping = "\"'()[]~ "sv;

// The first letter of the word is a capital, of ASCII or the Latin-1 letters in UTF-8.
bool begins_with_capital(std::string_view word) {
  word.remove_prefix(std::min(word.find_first_not_of(kWrapping), word.size()));
  for (const std::string_view quote : {"\u201C"sv, "\u2018"sv, "\u201E"sv}) {
    if (word.substr(0, quote.size()) == quote) word.remove_prefix(quote.size());
  }
  if (word.empty()) return false;
  if (word[0] >= 'A' && word[0] <= 'Z') return true;
  const auto second = word.size() > 1 ? static_cast<unsigned char>(word[1]) : 0u;
  return word[0] == '\xC3' && second >= 0x80 && second <= 0x9E;
}

bool ends_with_stop(std::string_view word) {
  const std::size_t last = word.find_last_not_of(kWrapping);
  if (last == word.npos) return false;
  word = word.substr(0, last + 1);
  for (const std::string_view quote : {"\u201D"sv, "\u2019"sv, "\u201C"sv}) {
    if (word.size() > quote.size() && word.substr(word.size() - quote.size()) == quote) {
      word.remove_suffix(quote.size());
    }
  }
  return ".,;:!?"sv.find(word.back()) != std::string_view::npos;
}

// Bytes of a verse number at the start, its full stop included.
std::size_t number_length(std::string_view text) {
  const std::size_t digits = std::min(text.find_first_not_of("0123456789"), text.size());
  if (digits == 0 || digits > 3 || digits == text.size()) return 0;
  return text[digits] == '.' || text[digits] == ')' ? digits + 1 : 0;
}

}  // namespace

int abc_verse_number(std::string_view text) {
  text = abc_trimmed(text);
  const std::size_t length = number_length(text);
  if (length == 0) return 0;
  const int number = abc_number(text.substr(0, length - 1)).value_or(0);
  return number <= kMaxVerses ? number : 0;
}

// Lays one verse under the notes of a block.
class AbcLyrics::Aligner {
 public:
  Aligner(Block& block, int verse) : block_(block), verse_(verse) {}

  void align(std::string_view text) {
    for (std::size_t i = 0; i < text.size(); ++i) take(text, i);
    end_syllable(false);
  }
  [[nodiscard]] bool overflowed() const { return overflowed_; }
  [[nodiscard]] std::size_t placed() const { return placed_; }

 private:
  void take(std::string_view text, std::size_t& i) {
    const char c = text[i];
    if (c == '\\' && i + 1 < text.size() && (text[i + 1] == '-' || text[i + 1] == '%')) {
      word_.push_back(text[++i]);
    } else if (is_abc_space(c) || c == '\r') {
      end_syllable(false);
    } else if (c == '-') {
      // After a space or another hyphen it stands for a syllable of its own.
      if (word_.empty()) advance();
      end_syllable(true);
    } else if (c == '_' || c == '*') {
      end_syllable(false);
      advance();
    } else if (c == '|') {
      end_syllable(false);
      next_bar();
    } else {
      word_.push_back(c == '~' ? ' ' : c);
    }
  }

  void end_syllable(bool cut) {
    if (word_.empty()) return;
    if (next_ >= block_.notes.size()) {
      overflowed_ = true;
    } else {
      Syllable syllable;
      syllable.note = static_cast<std::uint32_t>(next_);
      syllable.verse = static_cast<std::uint8_t>(verse_);
      syllable.cut = cut;
      const std::string_view word = std::string_view(word_).substr(number_length(word_));
      syllable.capital = begins_with_capital(word);
      syllable.stop = !cut && ends_with_stop(word);
      syllable.words = short_text(plain_abc_text(word), kMaxSyllableBytes);
      block_.syllables.push_back(syllable);
      ++placed_;
      advance();
    }
    word_.clear();
  }

  void advance() {
    if (next_ < block_.notes.size()) ++next_;
  }

  void next_bar() {
    if (block_.notes.empty()) return;
    const std::size_t bar = block_.notes[next_ == 0 ? 0 : next_ - 1].bar;
    while (next_ < block_.notes.size() && block_.notes[next_].bar <= bar) ++next_;
  }

  Block& block_;
  int verse_;
  std::string word_;
  std::size_t next_ = 0;
  std::size_t placed_ = 0;
  bool overflowed_ = false;
};

void AbcLyrics::line(std::string_view text, AbcVoice& voice, AbcPlace at) {
  voice.settle();
  if (!voice.sung.empty() || blocks_.empty()) {
    blocks_.emplace_back();
    blocks_.back().notes = std::move(voice.sung);
    voice.sung.clear();
  }
  Block& block = blocks_.back();
  const int verse = ++block.verses;
  if (verse > kMaxVerses) {
    report_.fail(at, "the line has more than 200 verses; expected fewer.", ErrorKind::too_large);
  }
  text = abc_trimmed(text);
  const int number = abc_verse_number(text);
  Aligner aligner(block, verse);
  aligner.align(text);
  if (aligner.overflowed()) {
    report_.put_up_with(at, "the text has more syllables than the line has notes");
  }
  if (aligner.placed() > budget_.syllables) {
    report_.fail(at, "the tune has more than a million syllables; expected fewer.",
                 ErrorKind::too_large);
  }
  budget_.syllables -= aligner.placed();
  if (aligner.placed() == 0) return;
  if (number > 0) numbers_[verse] = number;
  const auto printed = numbers_.find(verse);
  verses_ = std::max(verses_, printed == numbers_.end() ? verse : printed->second);
  punctuated_ |= block.syllables.back().stop;
}

void AbcLyrics::find_line_ends(Block& block, const Block* next) const {
  std::vector<Syllable*> lasts;
  for (std::size_t i = 0; i < block.syllables.size(); ++i) {
    const bool last =
        i + 1 == block.syllables.size() || block.syllables[i + 1].verse != block.syllables[i].verse;
    if (last) lasts.push_back(&block.syllables[i]);
  }
  const auto any = [&](bool Syllable::*flag) {
    return std::any_of(lasts.begin(), lasts.end(), [&](const Syllable* s) { return s->*flag; });
  };
  bool runs_on = any(&Syllable::cut);
  if (!runs_on && punctuated_ && !any(&Syllable::stop) && next && !next->syllables.empty()) {
    runs_on = !next->syllables.front().capital;
  }
  if (runs_on) return;
  for (Syllable* last : lasts) last->line_end = true;
}

// Where all verses, two or more, go on with a capital letter, and one has a stop before it.
void AbcLyrics::find_inner_ends(Block& block) {
  struct Begin {
    int verses = 0;
    bool all = true;
    bool stop = false;
  };
  std::map<std::uint32_t, Begin> begins;
  const auto& syllables = block.syllables;
  const auto follows = [&](std::size_t i) {
    return i > 0 && syllables[i - 1].verse == syllables[i].verse;
  };
  for (std::size_t i = 0; i < syllables.size(); ++i) {
    Begin& begin = begins[syllables[i].note];
    ++begin.verses;
    begin.all &= follows(i) && syllables[i].capital && !syllables[i - 1].cut;
    begin.stop |= follows(i) && syllables[i - 1].stop;
  }
  for (std::size_t i = 1; i < syllables.size(); ++i) {
    const Begin& begin = begins[syllables[i].note];
    if (begin.verses < 2 || !begin.all || !begin.stop) continue;
    block.syllables[i - 1].line_end = true;
  }
}

void AbcLyrics::finish(AbcVoice& voice) {
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    const bool last = b + 1 == blocks_.size();
    // Where no note follows the text, what it leaves bare is the end of its last line.
    if (!last || !voice.sung.empty()) find_line_ends(blocks_[b], last ? nullptr : &blocks_[b + 1]);
    find_inner_ends(blocks_[b]);
    for (const Syllable& syllable : blocks_[b].syllables) {
      const AbcSung& sung = blocks_[b].notes[syllable.note];
      voice.bars[sung.bar].lyrics.push_back(
          {sung.note, syllable.verse, true, syllable.line_end, syllable.cut, syllable.words});
    }
  }
}

}  // namespace loftbeat::music
