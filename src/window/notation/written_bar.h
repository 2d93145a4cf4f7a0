#pragma once

#include <optional>
#include <vector>

#include "music/score.h"

namespace loftbeat::window {

// One bar of a score as it is written: which value each note has, with how many dots, which ties,
// which accidental, which rests. Values only, no drawing. A score keeps what sounds and not how it
// was printed, so that spelling goes by the key in force and values by the bar.

enum class Clef { treble, bass };
enum class Accidental { none, double_flat, flat, natural, sharp, double_sharp };

struct WrittenHead {
  int note = -1;  // index into Score::notes
  int place = 0;  // diatonic: 28 = middle C, 29 = the D above it
  Accidental accidental = Accidental::none;
  bool tie_from = false;  // it goes on from what stands before it
  bool tie_to = false;
};

// What begins together in one voice: notes, or a rest if there are no heads.
struct WrittenChord {
  Tick at = 0;
  Tick length = 0;
  int value = 2;  // the note value is 2^-value of a whole note; -1 = breve
  int dots = 0;
  int tuplet = 1;                  // 3 = a triplet's
  bool whole_bar = false;          // a rest that fills the bar, whatever its metre
  std::vector<WrittenHead> heads;  // from the lowest up
};

struct WrittenVoice {
  int voice = 0;                     // Note::voice
  std::vector<WrittenChord> chords;  // in order of time
};

struct WrittenStaff {
  Clef clef = Clef::treble;
  std::vector<WrittenVoice> voices;  // from the topmost; one without notes where the staff rests
};

struct WrittenBar {
  Tick start = 0;
  Tick length = 0;
  int fifths = 0;  // of the key in force
  int beats = 4;
  int beat_type = 4;
  std::vector<WrittenStaff> staves;  // from the topmost
  std::vector<Tick> fermatas;
};

// Which staff each voice of a score stands on, and its clef. Where a score has one staff for voices
// that need two (a MIDI file), those whose middle pitch lies below middle C get the lower.
class StaffPlan {
 public:
  explicit StaffPlan(const music::Score& score);
  [[nodiscard]] int staves() const { return static_cast<int>(clefs_.size()); }
  [[nodiscard]] Clef clef(int staff) const { return clefs_[static_cast<std::size_t>(staff)]; }
  [[nodiscard]] int staff_of(const music::Note& note) const;

 private:
  std::vector<Clef> clefs_;
  std::vector<int> split_;  // by voice; empty: as the score says
};

// `bar`: index into Score::bars. Linear in the number of notes of the score.
[[nodiscard]] WrittenBar write_bar(const music::Score& score, const StaffPlan& plan,
                                   std::size_t bar);

// Diatonic place of the lowest line: E4 in the treble clef, G2 in the bass.
[[nodiscard]] constexpr int lowest_line(Clef clef) { return clef == Clef::treble ? 30 : 18; }

// Key in force at a tick; no mark: no sharps or flats.
[[nodiscard]] int fifths_at(const music::Score& score, Tick at);

}  // namespace loftbeat::window
