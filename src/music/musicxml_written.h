#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "music/repeats.h"
#include "music/score.h"

// What a score file says (MusicXML or ABC), before repeats are taken and ties are merged. Ticks
// count from the start of the bar. Inside the readers only.
namespace loftbeat::music {

// A bar may not last longer, and a note neither (over an hour at 60 to the minute).
inline constexpr std::int64_t kMaxBarQuarters = 4096;
inline constexpr int kMaxStavesOfPart = 64;
inline constexpr std::size_t kMaxParts = 512;
inline constexpr std::size_t kMaxWrittenBars = 250'000;  // of all parts together

struct Metre {
  int beats = 4;
  int beat_type = 4;
  [[nodiscard]] Tick length() const { return 4 * kTicksPerQuarter * beats / beat_type; }
  friend bool operator==(const Metre&, const Metre&) = default;
};

struct WrittenNote {
  TickSpan span;
  int pitch = 60;  // as it sounds, 0 to 127
  int staff = 0;   // within the part
  int voice = 0;   // index into WrittenPart::voices
  int lane = 0;    // Note::voice, once assign_voices has run
  bool tie_start = false;
  bool tie_stop = false;
  bool fermata = false;
  bool breath = false;
  std::uint32_t times = ~std::uint32_t{0};  // bit n: sounds the n + 1st time through
};

// One syllable, or what stands in its place.
struct WrittenLyric {
  std::size_t note = 0;  // index into WrittenBar::notes
  int verse = 1;
  bool text = false;
  bool line_end = false;
  bool goes_on = false;  // the word does
  std::string words;     // the syllable; may be empty where `text` is only known to be there
};

struct WrittenBar {
  std::string number;
  std::optional<bool> implicit;  // nothing: the file does not say
  std::optional<Metre> metre;    // nothing: none stated, or none by senza-misura
  Tick extent = 0;               // how far notes and other written durations reach
  Tick rest_extent = 0;          // how far rests of a whole bar reach
  Tick last_onset = 0;
  bool fills_metre = false;  // a voice ends just where the metre does
  std::vector<WrittenNote> notes;
  std::vector<WrittenLyric> lyrics;
  std::vector<TickSpan> fermata_rests;
  std::vector<TempoMark> tempi;
  std::vector<KeyMark> keys;
  std::vector<Tick> double_bars;  // inside the bar
  bool double_bar_at_end = false;
  bool fermata_at_start = false;  // on the left bar line
  bool fermata_at_end = false;
  std::optional<Tick> play_over_begin;  // signs round what is to be the play-over
  std::optional<Tick> play_over_end;
  RepeatSigns signs;
};

struct WrittenPart {
  std::vector<WrittenBar> bars;
  std::vector<std::string> voices;  // names as in the file, by first appearance
  int staves = 1;
  int first_staff = 0;  // in the system
};

// A bar of all parts together.
struct SystemBar {
  Tick length = 0;
  std::string number;
  Metre metre;
  bool pickup = false;
  RepeatSigns signs;
};

struct WrittenScore {
  std::string title;
  std::string tune;
  std::string poetic_metre;
  std::vector<WrittenPart> parts;
  std::vector<SystemBar> bars;
  int lyric_verses = 0;
  int staves = 0;
  bool voices_as_numbered = false;  // voice n of the file is Note::voice n - 1
};

}  // namespace loftbeat::music
