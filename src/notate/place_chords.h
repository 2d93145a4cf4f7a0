#pragma once

#include <optional>
#include <vector>

#include "notate/metrical.h"
#include "notate/struck_key.h"
#include "notate/time_line.h"

namespace loftbeat::notate {

// Keys that were struck together, and where in the score.
struct PlacedChord {
  Tick at = 0;
  std::vector<std::size_t> keys;  // into the heard keys, by time
  double mean_s = 0;              // of their onsets
};

struct Placing {
  std::vector<PlacedChord> chords;  // by place, each place once
  TimeLine line;
  double cost = 0;  // of the whole way; for comparing ways of the same keys
};

struct PlaceOrder {
  Setting setting;
  // When tick `first` was due by the click, on the take's clock; nothing: the first chord played
  // stands at `first`.
  std::optional<double> first_due_s;
  Tick first = 0;  // where playing begins
};

// Finds which keys make one chord, and the place of each chord, together: a search over all ways to
// cut the keys into chords and to give them places, costs being those of Metrical, of the keys
// about their chord, and of the tempo's straying (TimeLine). Of all ways a limited number is kept
// at each key, so time is linear in the number of keys: about a millisecond for each.
// Requires the keys sorted by their onsets.
[[nodiscard]] Placing place_chords(const std::vector<HeardKey>& keys, const PlaceOrder& order);

// How the player's straying is taken for a setting.
[[nodiscard]] Straying straying_of(const Setting& setting);

}  // namespace loftbeat::notate
