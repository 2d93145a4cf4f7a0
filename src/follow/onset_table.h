#pragma once

#include <cstdint>
#include <vector>

#include "music/score.h"

namespace loftbeat::follow {

// What a key means at one score onset, from least to most telling.
enum class Sound : std::uint8_t {
  foreign,      // nothing to do with the chord
  neighbour,    // a semitone or a tone off a note struck here: a slip or an ornament
  sounding,     // held over from an earlier onset
  octave,       // another octave of a note struck here
  tune_octave,  // another octave of the tune's note struck here
  chord,        // struck here, below the tune
  tune,         // the tune's note struck here
};

// One moment of the score at which something is struck.
struct Onset {
  Tick tick = 0;
  std::uint32_t first = 0;  // into OnsetTable::notes()
  std::uint32_t count = 0;
  bool tune = false;  // the topmost voice strikes here
  bool bar_start = false;
  bool phrase_start = false;  // first onset of a phrase
  bool on_beat = false;       // a whole quarter of the bar
};

// The score seen as a row of onsets; the ground on which following walks.
class OnsetTable {
 public:
  // Requires a score with at least one note. Phrases are the route's.
  OnsetTable(const music::Score& score, const std::vector<music::Phrase>& phrases);

  [[nodiscard]] const std::vector<Onset>& onsets() const { return onsets_; }
  [[nodiscard]] int size() const { return static_cast<int>(onsets_.size()); }
  [[nodiscard]] const Onset& operator[](int k) const {
    return onsets_[static_cast<std::size_t>(k)];
  }
  // Indices into Score::notes, grouped by onset; within an onset by rising pitch.
  [[nodiscard]] const std::vector<int>& notes() const { return notes_; }

  [[nodiscard]] Sound sound(int k, int pitch) const {
    if (pitch < 0 || pitch > 127) return Sound::foreign;
    return sounds_[static_cast<std::size_t>(k) * 128 + static_cast<std::size_t>(pitch)];
  }
  // One bit for each note struck at k that has this pitch (the first sixteen notes of a chord
  // have a bit, further ones none).
  [[nodiscard]] std::uint16_t bits(int k, int pitch) const;

  // Where the next onset is, or the score ends.
  [[nodiscard]] Tick end_of(int k) const { return k + 1 < size() ? (*this)[k + 1].tick : end_; }

  // Index of the first onset at or after `tick`; size() if there is none.
  [[nodiscard]] int at_or_after(Tick tick) const;

 private:
  void collect(const music::Score& score);
  void mark_starts(const music::Score& score, const std::vector<music::Phrase>& phrases);
  void classify(const music::Score& score);

  Tick end_ = 0;
  std::vector<Onset> onsets_;
  std::vector<int> notes_;
  std::vector<std::uint8_t> pitches_;  // by place in notes_
  std::vector<Sound> sounds_;
};

}  // namespace loftbeat::follow
