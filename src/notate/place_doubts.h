#pragma once

#include <vector>

#include "notate/place_chords.h"

namespace loftbeat::notate {

// A chord that might stand elsewhere.
struct PlaceDoubt {
  Tick at = 0;        // where it stands
  Tick other = 0;     // where else it might
  double margin = 0;  // how much dearer that would be; may be below 0
  friend bool operator==(const PlaceDoubt&, const PlaceDoubt&) = default;
};

// For each chord but the first, the best other place between its neighbours, where it is dearer by
// less than `most`: seen from the neighbours' times alone, all else being as placed.
[[nodiscard]] std::vector<PlaceDoubt> place_doubts(const Placing& placing, const Setting& setting,
                                                   double most);

}  // namespace loftbeat::notate
