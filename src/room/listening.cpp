#include "room/listening.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loftbeat::room {
namespace {

// Neighbours in a pew do not come closer (common practice, no source).
constexpr double kNearestNeighbourM = 0.7;

// Intensity at the listener for a sound power of 1: direct plus diffuse.
BandLevels arriving(const Acoustics& state, const BandLevels& power, const BandValues& direct) {
  BandLevels levels;
  for (std::size_t i = 0; i < kBandCount; ++i) {
    levels[i] = power[i] + hearing::level_from_power(direct[i] + 4.0 / state.area_m2[i]);
  }
  return levels;
}

BandValues direct_at(const Church& church, double distance_m, double directivity) {
  BandValues direct;
  const double spread = directivity / (4.0 * std::numbers::pi * distance_m * distance_m);
  for (std::size_t i = 0; i < kBandCount; ++i) {
    const double m = air_energy_constant_per_m(church.air, hearing::mid_hz(i));
    direct[i] = spread * std::exp(-m * distance_m);
  }
  return direct;
}

// Direct intensity at someone among `singers` people, for a power of 1 of them all together.
double among_neighbours(const Church& church, int singers) {
  const double per_m2 = singers / church.pew_area_m2();
  const double radius = std::sqrt(church.pew_area_m2() / std::numbers::pi);
  // Points strewn at random have their nearest neighbour at half the root of the area of one.
  const double nearest = std::max(kNearestNeighbourM, 0.5 / std::sqrt(per_m2));
  if (nearest >= radius) return 0;
  return per_m2 / 2.0 * std::log(radius / nearest) / singers;
}

}  // namespace

BandLevels heard_organ(const Church& church, const Acoustics& state, Place place,
                       const BandLevels& organ_power) {
  const double distance_m = place == Place::people ? church.distance.organ_to_people_m
                                                   : church.distance.organ_to_player_m;
  return arriving(state, organ_power, direct_at(church, distance_m, church.organ_directivity));
}

BandLevels heard_singing(const Church& church, const Acoustics& state, Place place, int singers) {
  if (singers <= 0) return hearing::silence();
  BandValues direct;
  if (place == Place::people) {
    direct.fill(among_neighbours(church, singers));
  } else {
    direct = direct_at(church, church.distance.people_to_player_m, 1.0);
  }
  return arriving(state, singing_power(church.effort, singers, church.voice_directivity_db),
                  direct);
}

BandMask extrapolated(const Acoustics& state) { return state.extrapolated | extrapolated_voice(); }

}  // namespace loftbeat::room
