#include "simulate/time_map.h"

#include <algorithm>

namespace loftbeat::simulate {

double TimeMap::onset(Tick tick) const { return between(tick, &Knot::onset); }

double TimeMap::sound_end(Tick tick) const { return between(tick, &Knot::sound_end); }

double TimeMap::between(Tick tick, double Knot::*at) const {
  const auto after = std::lower_bound(knots_.begin(), knots_.end(), tick,
                                      [](const Knot& knot, Tick t) { return knot.tick < t; });
  if (after == knots_.end()) return knots_.back().*at;
  if (after->tick == tick || after == knots_.begin()) return (*after).*at;
  const Knot& from = *(after - 1);
  const double share =
      static_cast<double>(tick - from.tick) / static_cast<double>(after->tick - from.tick);
  return from.onset + share * (after->reached - from.onset);
}

}  // namespace loftbeat::simulate
