#pragma once

#include <vector>

#include "music/score.h"
#include "simulate/random.h"

namespace loftbeat::simulate {

// Pitches that the score has sounding at each of its onsets, struck there or held on.
class Harmony {
 public:
  explicit Harmony(const music::Score& score);
  // At the last onset not after `tick`; empty before the first. Sorted, each pitch once.
  [[nodiscard]] const std::vector<int>& sounding(Tick tick) const;

 private:
  std::vector<Tick> ticks_;
  std::vector<std::vector<int>> pitches_;
  std::vector<int> none_;
};

// Pitch class of the tonic: from the key mark, else the last lowest note's.
[[nodiscard]] int tonic_of(const music::Score& score);

// Chord tones that make `chord` fuller: an octave below the bass, and its tones in other octaves
// between bass and tune. `count` at most, none already there, within the keys 36 to 84.
[[nodiscard]] std::vector<int> fuller_pitches(const std::vector<int>& chord, std::size_t count,
                                              Random& random);

// Bass, tenor and alto of a triad of the key (with `tonic`, major) that holds `tune`, below it.
[[nodiscard]] std::vector<int> triad_under(int tune, int tonic, Random& random);

// Four parts of the triad on a degree (0 = tonic chord) of the major key.
[[nodiscard]] std::vector<int> triad_on(int degree, int tonic);

// A wrong key for `pitch`: a neighbour by a semitone or a tone, or another tone of the chord's in
// reach (within a sixth); never a pitch of the chord that is struck or sounding.
[[nodiscard]] int wrong_pitch(int pitch, const std::vector<int>& chord, Random& random);

}  // namespace loftbeat::simulate
