#pragma once

#include <cstddef>
#include <vector>

#include "practice/heard_tune.h"
#include "practice/tune_outline.h"

namespace loftbeat::practice {

// Fewer notes name no tune.
inline constexpr std::size_t kLeastHeardNotes = 4;

// How well a tune explains what was played.
struct TuneMatch {
  std::size_t tune = 0;  // index into the outlines
  double cost = 0;       // sum of what does not fit; a wrong note costs 1
  double per_note = 0;   // the same by notes played; 0 = all fits
  int transposed = 0;    // semitones that it was played above the score
  std::size_t line = 0;  // of the tune, with which the playing begins, from 0
};

// What the matches are worth.
enum class Certainty {
  none,   // nothing fits
  maybe,  // the first fits, but another fits nearly as well, or it fits poorly
  sure,
};

// Compares the playing with every tune, in any key and at any speed: the best first, at most
// `most`. Wrong, missed and added notes cost about 1 each, a rhythm that differs up to 0.4 a note;
// the playing may begin with any line (the first is likeliest), without the upbeat, and go from the
// end of a line to the beginning of another, as play-overs do. Where costs are equal the order of
// the outlines decides. Empty if fewer than kLeastHeardNotes were heard. Pure; some 0.05 ms a tune.
//
// Worked number: a tune's first eight notes played a third higher at twice the speed cost 0; with
// one of them a semitone off, 1.
[[nodiscard]] std::vector<TuneMatch> find_tune(const std::vector<HeardNote>& heard,
                                               const std::vector<const TuneOutline*>& tunes,
                                               std::size_t most = 5);

// Sure: at most a third of a wrong note for each note, and the next different tune costs at least
// 0.9 more. None: more than half. Requires the matches of find_tune.
[[nodiscard]] Certainty certainty_of(const std::vector<TuneMatch>& matches,
                                     const std::vector<const TuneOutline*>& tunes);

}  // namespace loftbeat::practice
