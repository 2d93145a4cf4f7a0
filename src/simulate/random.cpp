#include "simulate/random.h"

#include <cassert>
#include <cmath>

namespace loftbeat::simulate {
namespace {

// FNV-1a, so that each stream's name gives its own seed.
std::uint64_t mixed(std::uint64_t seed, std::string_view stream) {
  std::uint64_t hash = 14695981039346656037u ^ seed;
  for (const char c : stream) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 1099511628211u;
  }
  return hash;
}

constexpr double kTwoPi = 6.283185307179586;

}  // namespace

Random::Random(std::uint64_t seed, std::string_view stream) : engine_(mixed(seed, stream)) {
  engine_.discard(8);
}

double Random::uniform() { return static_cast<double>(engine_() >> 11u) * 0x1.0p-53; }

double Random::between(double low, double high) { return low + (high - low) * uniform(); }

std::size_t Random::below(std::size_t count) {
  assert(count > 0);
  const auto drawn = static_cast<std::size_t>(uniform() * static_cast<double>(count));
  return drawn < count ? drawn : count - 1;
}

bool Random::chance(double share) { return uniform() < share; }

double Random::human(double sd) {
  if (sd <= 0) return 0;
  for (;;) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
    const double drawn = radius * std::cos(kTwoPi * uniform());
    if (std::fabs(drawn) <= 3.0) return sd * drawn;
  }
}

}  // namespace loftbeat::simulate
