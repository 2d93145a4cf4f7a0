#include "pipes/power.h"

#include <cmath>

#include "pipes/filter_curves.h"
#include "pipes/interpolation.h"
#include "pipes/noise.h"
#include "pipes/pipe_spectrum.h"
#include "pipes/soundfont.h"

namespace loftbeat::pipes {
namespace {

using Bands = RankPowers::Bands;

// Where a frequency above half the sample rate is heard.
double folded(double hz) {
  const double within = std::fmod(hz, kSampleRate);
  return within <= kSampleRate / 2.0 ? within : kSampleRate - within;
}

// The sound of a zone's sample with its noise spread out, ready to be played higher or lower.
struct Spread {
  struct Part {
    double hz;
    double power;         // at the root, where the sample is played as it stands
    double interpolated;  // at the other keys
    // Also there: the images about the sample rate that interpolation leaves, below and above it.
    double image_below;
    double image_above;
  };
  explicit Spread(const Rank& rank, const Zone& zone) {
    const SteadySound sound = steady_sound(rank, zone);
    for (const SteadySound::Line& line : sound.lines) add(sound.hz(line), line.power);
    for (const hearing::Partial& partial :
         noise_partials(rank.wind, sound.noise_from_hz, sound.noise_power))
      add(partial.hz, hearing::power_from_level(partial.level_db));
  }
  void add(double hz, double power) {
    const double cycles = hz / kSampleRate;
    parts.push_back({hz, power, power * cubic_power(cycles), power * cubic_power(1 - cycles),
                     power * cubic_power(1 + cycles)});
  }
  std::vector<Part> parts;
};

Bands bands_at(const Spread& spread, double ratio) {
  Bands bands{};
  const FilterCurves& curves = filter_curves();
  for (const Spread::Part& part : spread.parts) {
    curves.add(bands, ratio * part.hz, ratio == 1 ? part.power : part.interpolated);
    if (ratio == 1) continue;  // played point by point
    curves.add(bands, folded(ratio * (kSampleRate - part.hz)), part.image_below);
    curves.add(bands, folded(ratio * (kSampleRate + part.hz)), part.image_above);
  }
  return bands;
}

double ratio_of(const Rank& rank, const Zone& zone, int key) {
  return std::exp2((key - zone.root) / 12.0 + key_cents(rank, key) / 1200.0);
}

}  // namespace

hearing::BandLevels pipe_power(const Rank& rank, int key) {
  hearing::BandLevels levels = hearing::silence();
  if (!has_key(key)) return levels;
  const Zone& zone = zone_of(key);
  const Bands bands = bands_at(Spread(rank, zone), ratio_of(rank, zone, key));
  for (std::size_t i = 0; i < bands.size(); ++i) levels[i] = hearing::level_from_power(bands[i]);
  return levels;
}

RankPowers::RankPowers(const Recipes& recipes) {
  powers_.reserve(recipes.ranks.size() * kKeyCount);
  for (const Rank& rank : recipes.ranks) {
    for (const Zone& zone : zones()) {
      const Spread spread(rank, zone);
      for (int key = zone.lowest; key <= zone.highest; ++key)
        powers_.push_back(bands_at(spread, ratio_of(rank, zone, key)));
    }
  }
}

const RankPowers::Bands& RankPowers::at(std::size_t rank, int key) const {
  static constexpr Bands kNothing{};
  if (rank >= ranks() || !has_key(key)) return kNothing;
  return powers_[rank * kKeyCount + static_cast<std::size_t>(key - kLowestKey)];
}

}  // namespace loftbeat::pipes
