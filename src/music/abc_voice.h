#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "music/abc_fields.h"
#include "music/abc_key.h"
#include "music/abc_report.h"
#include "music/musicxml_written.h"

// One voice of an ABC tune as it is being read: where it is in its bar, and what still waits to be
// applied. Inside the reader only.
namespace loftbeat::music {

inline constexpr int kMaxAbcOverlays = 8;

// What may still be read, of all voices together.
struct AbcBudget {
  std::size_t notes = kMaxNotes;
  std::size_t bars = kMaxWrittenBars;
  std::size_t syllables = kMaxNotes;
};

// One note of a chord as written.
struct AbcPitch {
  int letter = 0;                 // 0 to 6 for C to B
  int octave = 4;                 // that of middle C
  std::optional<int> accidental;  // semitones, if one is written
  std::int64_t time = 0;          // its own length (kAbcTimePerTick)
  bool tied = false;
};

// What a decoration says of the next note or bar line.
enum class AbcMark {
  fermata,
  breath,
  play_over_begin,
  play_over_end,
  segno,
  coda,
  to_coda,
  fine,
  da_capo,
  dal_segno
};

// A note, a chord or, without pitches, a rest.
struct AbcEvent {
  std::vector<AbcPitch> pitches;
  std::int64_t time = 0;  // by which the voice moves on
  AbcPlace at;
  std::vector<AbcMark> marks;  // taken from what the voice was told before it
};

struct AbcBarLine {
  int backward = 0;  // times played in all; 0 = no repeat ends here
  bool forward = false;
  bool doubled = false;     // of two lines, or a thick one
  std::vector<int> ending;  // that begins after it
};

// How far an accidental reaches.
enum class AbcPropagation { none, octave, pitch };

// Which note a syllable may be sung on.
struct AbcSung {
  std::size_t bar = 0;
  std::size_t note = 0;  // index into WrittenBar::notes
};

struct AbcMetreChange {
  std::size_t bar = 0;
  AbcMetre metre;
};

class AbcVoice {
 public:
  AbcVoice(std::string name, AbcReport& report, AbcBudget& budget);

  // Fields. A metre or key within a bar acts from there on; as a bar's metre, from the next bar.
  void set_metre(const AbcMetre& metre);
  void set_key(const AbcKey& key);
  void set_tempo(double quarters_per_minute);
  AbcFraction unit{1, 8};
  AbcShift shift;
  AbcPropagation propagation = AbcPropagation::pitch;
  bool unit_stated = false;

  // Music.
  void strike(AbcEvent event);
  void rest_bars(int bars, AbcPlace at);
  void mark(AbcMark mark) { marks_.push_back(mark); }
  void begin_tuplet(int notes, int in_time_of, int over, AbcPlace at);
  // ">" is 1, ">>" 2, "<" -1: lengthens the note before, shortens the one after.
  void break_rhythm(int size, AbcPlace at);
  void begin_overlay(AbcPlace at);
  void bar_line(const AbcBarLine& line, AbcPlace at);
  // Ties the note or chord struck last to the next.
  void tie_last();
  // Puts down what is held back. To be called before `sung` is looked at.
  void settle();
  // Ends the last bar.
  void finish(AbcPlace at);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] const AbcKey& key() const { return key_; }
  [[nodiscard]] const AbcMetre& metre() const { return metre_; }
  [[nodiscard]] std::size_t bar_index() const { return bars.size() - 1; }
  [[nodiscard]] std::int64_t notes_read() const { return notes_read_; }

  std::vector<WrittenBar> bars;  // the last one is under way; finish() takes it away if empty
  std::vector<Tick> lengths;     // of the bars that are closed
  std::vector<AbcSung> sung;     // notes since the last text
  std::vector<AbcMetreChange> metre_changes;

 private:
  struct TiedNote {
    int letter = 0;
    int octave = 0;
    int pitch = 0;
  };
  struct Tuplet {
    int notes = 1;
    int in_time_of = 1;
    int left = 0;
  };

  [[nodiscard]] bool bar_is_empty() const;
  WrittenBar& bar() { return bars.back(); }
  void close_bar(AbcPlace at);
  int sounding_pitch(const AbcPitch& pitch, AbcPlace at, bool& continues);
  int alteration(const AbcPitch& pitch);
  void put_down(const AbcEvent& event);
  void put_note(const AbcPitch& pitch, const AbcEvent& event);
  void apply_marks(const std::vector<AbcMark>& marks, TickSpan span, std::size_t first_note);
  void apply_marks_at_bar_line();
  void apply_sign(AbcMark mark, RepeatSigns& signs);
  void grow_bar(AbcPlace at);

  std::string name_;
  AbcReport& report_;
  AbcBudget& budget_;
  AbcMetre metre_;
  AbcKey key_;
  std::optional<AbcEvent> held_;  // waits for a broken rhythm
  int broken_ = 0;                // what the next event has to give or take
  Tuplet tuplet_;
  std::vector<AbcMark> marks_;  // wait for the next note or bar line
  std::int64_t time_ = 0;       // from the start of the bar
  std::int64_t bar_time_ = 0;   // how far any overlay has come
  int overlay_ = 0;
  std::map<std::pair<int, int>, int> accidentals_;  // of this bar: letter, octave (0 if in all)
  std::map<int, std::vector<TiedNote>> ties_;       // by overlay
  std::vector<TiedNote> ties_into_endings_;
  std::int64_t notes_read_ = 0;
};

}  // namespace loftbeat::music
