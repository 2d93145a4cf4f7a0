#include "music/musicxml_unfold.h"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

#include "music/musicxml_line_ends.h"
#include "music/musicxml_marks.h"
#include "music/musicxml_text.h"
#include "music/musicxml_ties.h"
#include "music/words.h"

namespace loftbeat::music {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

// Which lyric lines tell the phrases: of the first part that marks line ends, the lowest verse.
struct LyricLine {
  std::size_t part = kNone;
  int verse = 0;
};

LyricLine find_lyric_line(const WrittenScore& written) {
  LyricLine line;
  for (std::size_t p = 0; p < written.parts.size() && line.part == kNone; ++p) {
    for (const WrittenBar& bar : written.parts[p].bars) {
      for (const WrittenLyric& lyric : bar.lyrics) {
        if (!lyric.line_end || (line.part == p && line.verse <= lyric.verse)) continue;
        line = {p, lyric.verse};
      }
    }
  }
  return line;
}

// The part whose words are kept: that of the phrases, else the first that has any.
std::size_t find_words(const WrittenScore& written, const LyricLine& line) {
  if (line.part != kNone) return line.part;
  for (std::size_t p = 0; p < written.parts.size(); ++p) {
    const auto& bars = written.parts[p].bars;
    const auto has_words = [](const WrittenBar& bar) {
      return std::any_of(bar.lyrics.begin(), bar.lyrics.end(),
                         [](const WrittenLyric& lyric) { return !lyric.words.empty(); });
    };
    if (std::any_of(bars.begin(), bars.end(), has_words)) return p;
  }
  return kNone;
}

class Unfolder {
 public:
  explicit Unfolder(const WrittenScore& written)
      : written_(written),
        tempi_(written, &WrittenBar::tempi),
        keys_(written, &WrittenBar::keys),
        line_(find_lyric_line(written)),
        words_part_(find_words(written, line_)),
        ties_(written.parts.size()) {}

  Score unfold() {
    for (const PlayedBar& bar : order()) play_bar(bar);
    if (score_.notes.empty()) {
      throw ReadFailure{
          {ErrorKind::unreadable,
           "all notes stand in endings that are never played; expected a first ending"}};
    }
    finish();
    return std::move(score_);
  }

 private:
  std::vector<PlayedBar> order() const {
    std::vector<RepeatSigns> signs;
    for (const SystemBar& bar : written_.bars) signs.push_back(bar.signs);
    auto played = play_order(signs);
    if (!played) throw ReadFailure{played.error()};
    return std::move(played).value();
  }

  // Bounds the work, not only the result: what is looked at counts, sounding or not.
  static void spend(std::size_t& budget, std::size_t amount) {
    if (amount > budget) {
      throw ReadFailure{
          {ErrorKind::too_large,
           "the repeats unfold to more than a million notes or marks; expected fewer"}};
    }
    budget -= amount;
  }

  void play_bar(const PlayedBar& played) {
    const SystemBar& bar = written_.bars[played.written];
    start_ = score_.length;
    score_.length += bar.length;
    score_.bars.push_back(
        {start_, bar.length, bar.number, bar.metre.beats, bar.metre.beat_type, bar.pickup});
    spend(marks_left_, tempi_.play(played.written, start_, score_.tempi));
    spend(marks_left_, keys_.play(played.written, start_, score_.keys));
    if (bar.signs.forward) ends_.double_bars.push_back(start_);
    if (bar.signs.backward > 0) ends_.double_bars.push_back(score_.length);
    for (std::size_t p = 0; p < written_.parts.size(); ++p) {
      const auto& bars = written_.parts[p].bars;
      if (played.written < bars.size()) play_part(p, bars[played.written], played.time);
    }
  }

  void play_part(std::size_t p, const WrittenBar& bar, int time) {
    spend(notes_left_, bar.notes.size());
    spend(marks_left_, bar.lyrics.size() + bar.fermata_rests.size() + bar.double_bars.size());
    std::vector<std::size_t> by_onset(bar.notes.size());
    std::iota(by_onset.begin(), by_onset.end(), std::size_t{0});
    std::stable_sort(by_onset.begin(), by_onset.end(), [&](std::size_t a, std::size_t b) {
      return bar.notes[a].span.begin < bar.notes[b].span.begin;
    });
    std::vector<std::size_t> sounding(bar.notes.size(), kNone);
    for (const std::size_t n : by_onset) sounding[n] = play_note(p, bar.notes[n], time);
    play_lyrics(p, bar, sounding);
    for (const TickSpan& rest : bar.fermata_rests) {
      fermatas_.notes.push_back({start_ + rest.begin, start_ + rest.end});
    }
    for (const Tick at : bar.double_bars) ends_.double_bars.push_back(start_ + at);
    if (bar.double_bar_at_end) ends_.double_bars.push_back(score_.length);
    if (bar.fermata_at_start && start_ > 0) fermatas_.bar_lines.push_back(start_);
    if (bar.fermata_at_end) fermatas_.bar_lines.push_back(score_.length);
    play_over_signs(bar);
  }

  // The first begin and the first end after it, as played.
  void play_over_signs(const WrittenBar& bar) {
    if (bar.play_over_begin && !play_over_begin_) play_over_begin_ = start_ + *bar.play_over_begin;
    if (!bar.play_over_end || !play_over_begin_ || score_.play_over) return;
    const Tick end = start_ + *bar.play_over_end;
    if (end > *play_over_begin_) score_.play_over = TickSpan{*play_over_begin_, end};
  }

  // The index of the note that sounds; kNone if it is silent this time through.
  std::size_t play_note(std::size_t p, const WrittenNote& note, int time) {
    const bool sounds = time > 32 || ((note.times >> (time - 1)) & 1u) != 0;
    if (!sounds) return kNone;
    const Tick onset = start_ + note.span.begin;
    const Tick end = start_ + note.span.end;
    std::optional<std::size_t> index;
    if (note.tie_stop) index = ties_[p].take(note, onset);
    if (index) {
      score_.notes[*index].length = end - score_.notes[*index].onset;
    } else {
      index = score_.notes.size();
      score_.notes.push_back({onset, note.span.length(), note.pitch, note.lane,
                              written_.parts[p].first_staff + note.staff});
    }
    if (note.tie_start) ties_[p].open(note, end, *index);
    if (note.fermata) fermata_notes_.push_back(*index);
    if (note.breath) ends_.breath_marks.push_back(end);
    return *index;
  }

  void play_lyrics(std::size_t p, const WrittenBar& bar, const std::vector<std::size_t>& sounding) {
    if (p != words_part_) return;
    for (const WrittenLyric& lyric : bar.lyrics) {
      const std::size_t note = sounding[lyric.note];
      if (note == kNone) continue;
      score_.words.push_back({score_.notes[note].onset, lyric.verse, lyric.goes_on, lyric.words});
      if (p == line_.part && lyric.verse == line_.verse)
        lyrics_.push_back({note, lyric.text, lyric.line_end});
    }
  }

  TickSpan span_of(std::size_t note) const {
    const Note& n = score_.notes[note];
    return {n.onset, n.onset + n.length};
  }

  void finish() {
    for (Note& note : score_.notes) note.length = std::min(note.length, score_.length - note.onset);
    for (const std::size_t note : fermata_notes_) fermatas_.notes.push_back(span_of(note));
    std::vector<PlayedLyric> lyrics;
    for (const Lyric& lyric : lyrics_) {
      lyrics.push_back({span_of(lyric.note), lyric.text, lyric.line_end});
    }
    ends_.lyric_lines = lyric_line_ends(std::move(lyrics));
    ends_.fermatas = place_fermatas(std::move(fermatas_), score_);
    std::sort(score_.notes.begin(), score_.notes.end(), [](const Note& a, const Note& b) {
      return std::tie(a.onset, a.pitch, a.voice, a.staff, a.length) <
             std::tie(b.onset, b.pitch, b.voice, b.staff, b.length);
    });
    std::erase_if(score_.tempi, [&](const TempoMark& mark) { return mark.at >= score_.length; });
    std::erase_if(score_.keys, [&](const KeyMark& mark) { return mark.at >= score_.length; });
    find_phrases(score_, ends_);
    put_in_order(score_.words);
    score_.title = written_.title;
    score_.tune = written_.tune;
    score_.poetic_metre = written_.poetic_metre;
    score_.lyric_verses = written_.lyric_verses;
    score_.staves = written_.staves;
    for (const Note& note : score_.notes) score_.voices = std::max(score_.voices, note.voice + 1);
  }

  struct Lyric {
    std::size_t note = 0;
    bool text = false;
    bool line_end = false;
  };

  const WrittenScore& written_;
  MarkLane<TempoMark> tempi_;
  MarkLane<KeyMark> keys_;
  LyricLine line_;
  std::size_t words_part_;
  std::vector<OpenTies> ties_;  // by part
  Score score_;
  LineEnds ends_;
  PlayedFermatas fermatas_;
  std::vector<std::size_t> fermata_notes_;
  std::vector<Lyric> lyrics_;
  std::optional<Tick> play_over_begin_;
  Tick start_ = 0;  // of the bar under way
  std::size_t notes_left_ = kMaxNotes;
  std::size_t marks_left_ = kMaxNotes;
};

}  // namespace

Score unfold(const WrittenScore& written) { return Unfolder(written).unfold(); }

}  // namespace loftbeat::music
