#pragma once

#include <cstdint>

#include "chance_chorale.h"
#include "notate/noted_hymn.h"

namespace loftbeat::notate {

// How someone plays from the book to a click.
struct Playing {
  double jitter_s = 0.030;  // SD of each key
  double spread_s = 0.050;  // keys of a chord are spread evenly over so much
  double stray = 0.04;      // how far his tempo is from the click's
  // By chance: a random walk drawn back to the click in tempo and in place (SD `stray` of tempo);
  // swinging: a slow wave, `stray` at most.
  enum class Wander { by_chance, swinging } wander = Wander::by_chance;
  double touch_low = 0.60, touch_high = 1.00;  // share of its length that a key is held
};

// `score` played. Voices that have one key at one moment strike it once, held as long as the longer
// wants. A key that a part holds and another strikes is let go a little before.
[[nodiscard]] Heard played_once(const music::Score& score, const Setting& setting,
                                const Playing& playing, std::uint64_t seed);

}  // namespace loftbeat::notate
