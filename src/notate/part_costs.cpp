#include "notate/part_costs.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace loftbeat::notate {
namespace {

struct Compass {
  int low, high;
};
// Soprano, alto, tenor, bass as hymn books have them (common practice, no source).
constexpr std::array<Compass, 4> kCompass = {{{59, 80}, {53, 74}, {47, 69}, {36, 62}}};

}  // namespace

double leap_cost(int from, int to, bool bass) {
  const int leap = std::abs(from - to);
  double cost = 0;
  if (leap == 0) {
    cost = 0;
  } else if (leap <= 2) {
    cost = 0.3;
  } else if (leap <= 5) {
    cost = 0.3 + 0.3 * (leap - 2);
  } else {
    cost = 1.2 + 0.35 * (leap - 5);
  }
  return bass ? 0.6 * cost : cost;
}

double compass_cost(int pitch, int voice, int voices) {
  const std::size_t part = voice + 1 == voices && voices > 1 ? 3 : static_cast<std::size_t>(voice);
  const Compass& compass = kCompass[std::min<std::size_t>(part, 3)];
  if (pitch < compass.low) return 0.4 * (compass.low - pitch);
  if (pitch > compass.high) return 0.4 * (pitch - compass.high);
  return 0;
}

double touch_cost(const PartNow& part, Tick at) {
  const double held = quarters(part.released - part.at);
  const double whole = quarters(at - part.at);
  const double over = quarters(part.released - at);
  constexpr double kOverlap = 0.12;  // quarters: legato playing and jitter
  if (over > kOverlap) return std::min(8.0, 1 + 16 * (over - kOverlap));
  constexpr double kLeastShare = 0.5;
  const double share = held / whole;
  if (share < kLeastShare) return std::min(4.0, 0.5 + 8 * (kLeastShare - share));
  return 0;
}

double crossing_cost(const PartNow& upper, const PartNow& lower, Tick at) {
  if (upper.key < 0 || lower.key < 0 || upper.pitch > lower.pitch) return 0;
  const bool both = upper.at == at && lower.at == at;
  if (upper.pitch == lower.pitch) return upper.key == lower.key ? 0 : 2;
  if (both) return 6;
  const Tick released = upper.at == at ? lower.released : upper.released;
  return released > at ? 4 : 3;
}

}  // namespace loftbeat::notate
