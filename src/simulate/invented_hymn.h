#pragma once

#include <cstdint>

#include "music/score.h"

namespace loftbeat::simulate {

enum class PhraseForm { all_new, aaba, abab };
enum class Fermatas { none, phrase_ends };

// What sort of tune to invent. Bars of beats/beat_type; phrases are two bars long, four where a
// bar is shorter than four crotchets (3/4), and all of one length.
struct HymnShape {
  int beats = 4;
  int beat_type = 4;
  double upbeat_quarters = 0;  // 0, or shorter than a bar; every phrase then begins with an upbeat
  int phrases = 4;             // 1 or more
  double quaver_share = 0.15;  // beats of the tune divided in two (6/8: in three)
  double repeated_share = 0.25;  // tune notes that repeat the one before
  PhraseForm form = PhraseForm::all_new;
  Fermatas fermatas = Fermatas::none;
  int lyric_verses = 0;
};

// A four-part hymn tune with all invariants of music::Score: voices 0 = soprano to 3 = bass on two
// staves, major key, phrases stated, the last chord on the tonic. The same seed gives the same
// tune. Worked example: 4/4, upbeat 1, 4 phrases: pickup bar "0" of one crotchet, bars "1" to "8",
// the last of three crotchets; 32 crotchets in all.
[[nodiscard]] music::Score invented_hymn(const HymnShape& shape, std::uint64_t seed);

// A shape by chance: 2/2, 3/4, 4/4 or 6/8, with or without upbeat, 4 to 8 phrases.
[[nodiscard]] HymnShape invented_shape(std::uint64_t seed);

}  // namespace loftbeat::simulate
