#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/base.h"

namespace loftbeat::music {

// Limits that readers enforce, so that memory stays bounded whatever a file claims.
inline constexpr std::size_t kMaxNotes = 1'000'000;
inline constexpr int kMaxVerses = 200;

// One sounding note: ties are merged, transposing parts are sounded, grace and cue notes are
// not there. A unison of two voices is two notes with the same onset and pitch.
struct Note {
  Tick onset = 0;   // from the start of the score as played (repeats unfolded)
  Tick length = 0;  // > 0
  int pitch = 60;   // MIDI key number, 0 to 127; 60 = middle C
  int voice = 0;    // 0 = the topmost voice (the tune in a hymn), counting down the system
  int staff = 0;    // 0 = the topmost staff of the system
  friend bool operator==(const Note&, const Note&) = default;
};

// One bar as played: a repeated bar occurs once for each time through.
struct Bar {
  Tick start = 0;
  Tick length = 0;      // what is written in it (a pickup bar is short)
  std::string number;   // as printed; a pickup bar is "0"
  int beats = 4;        // the metre in force
  int beat_type = 4;    // 1, 2, 4, 8, 16, 32 or 64
  bool pickup = false;  // shorter than its metre and counted back from its end
  friend bool operator==(const Bar&, const Bar&) = default;
};

// One line of the text, or what stands for one: [begin, end), end = the next phrase's begin.
struct Phrase {
  TickSpan span;
  friend bool operator==(const Phrase&, const Phrase&) = default;
};

// Where phrases were taken from; readers use the first that yields two phrases or more.
enum class PhraseSource { none, lyric_lines, fermatas, breath_marks, double_bars, plan };

struct Fermata {
  Tick at = 0;  // onset of the note (or rest) that carries it
  friend bool operator==(const Fermata&, const Fermata&) = default;
};

struct TempoMark {
  Tick at = 0;
  double quarters_per_minute = 120;  // > 0
  friend bool operator==(const TempoMark&, const TempoMark&) = default;
};

struct KeyMark {
  Tick at = 0;
  int fifths = 0;  // -7 (seven flats) to 7 (seven sharps)
  bool minor = false;
  friend bool operator==(const KeyMark&, const KeyMark&) = default;
};

// A syllable of the words, on the note on which it begins.
struct Syllable {
  Tick at = 0;           // that note's onset
  int verse = 1;         // from 1, counting down below the notes
  bool goes_on = false;  // the word has more syllables
  std::string text;      // UTF-8, without hyphens, at most kMaxSyllableBytes; not empty
  friend bool operator==(const Syllable&, const Syllable&) = default;
};
inline constexpr std::size_t kMaxSyllableBytes = 60;

// A score as it is to be played once through. Invariants that every reader keeps: notes are
// sorted by (onset, pitch, voice); bars, phrases, fermatas, tempi and keys by time; bars follow
// each other without gap from tick 0; phrases lie inside [0, length).
struct Score {
  std::string title;
  std::string tune;          // the tune's own name; empty if the file states none
  std::string poetic_metre;  // as format_poetic_metre writes it; empty if the file states none
  std::vector<Note> notes;
  std::vector<Bar> bars;
  std::vector<Phrase> phrases;
  PhraseSource phrase_source = PhraseSource::none;
  std::vector<Fermata> fermatas;
  std::vector<TempoMark> tempi;  // empty if the file states none
  std::vector<KeyMark> keys;     // empty if the file states none
  // The words of one voice, that which tells the phrases, by place and verse, each place and verse
  // once; empty if there are none.
  std::vector<Syllable> words;
  int lyric_verses = 0;  // highest verse number with text, 0 if none
  int voices = 0;        // 1 + the largest Note::voice
  int staves = 0;
  Tick length = 0;  // end of the last bar
  // What the file itself offers as the play-over, inside [0, length]; nothing where it says
  // nothing. A plan need not follow it.
  std::optional<TickSpan> play_over;
};

// A score and what its reader had to put up with.
struct ReadScore {
  Score score;
  std::vector<Notice> notices;
  bool played = false;  // the file holds playing, off the beats: a recording rather than a score
};

// Bar as played that holds `at` (the last one from its start on). Requires bars not empty.
[[nodiscard]] const Bar& bar_at(const Score& score, Tick at);

// Position of `at` within its bar in units of `beat` ticks, counted from 1; a pickup bar counts
// back from its end (in 4/4 the upbeat crotchet of a pickup bar is beat 4).
// Example: quarter beats, second crotchet of a full bar -> 2.0.
[[nodiscard]] double beat_in_bar(const Score& score, Tick at, Tick beat);

}  // namespace loftbeat::music
