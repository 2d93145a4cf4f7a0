#include <algorithm>
#include <cmath>

#include "room/materials.h"

namespace loftbeat::room {
namespace {

// Three thirds of a tenth of a decade make an octave in base ten (IEC 61260-1).
constexpr double kOctavesPerDecade = 10.0 / 3.0;
constexpr double kFirstOctaveHz = 125.89254117941673;  // 10^2.1

std::size_t given_octaves(const OctaveTable& table) {
  return table.back() < 0 ? kPublishedOctaves - 1 : kPublishedOctaves;
}

double octaves_above_first(double hz) {
  return std::log10(hz / kFirstOctaveHz) * kOctavesPerDecade;
}

}  // namespace

double absorption_at(const OctaveTable& table, double hz) {
  const double last = static_cast<double>(given_octaves(table) - 1);
  const double place = std::clamp(octaves_above_first(hz), 0.0, last);
  const auto below = static_cast<std::size_t>(std::floor(place));
  const std::size_t above = std::min(below + 1, given_octaves(table) - 1);
  return std::lerp(table[below], table[above], place - static_cast<double>(below));
}

bool published_at(const OctaveTable& table, double hz) {
  const double place = octaves_above_first(hz);
  return place >= -0.5 && place < static_cast<double>(given_octaves(table)) - 0.5;
}

}  // namespace loftbeat::room
