#include "room/acoustics.h"

#include <algorithm>

#include "room/formulas.h"

namespace loftbeat::room {
namespace {

double share_of_seats(const Church& church, int people) {
  const int seats = church.seats();
  if (seats <= 0) return people > 0 ? 1.0 : 0.0;
  return std::clamp(static_cast<double>(people) / seats, 0.0, 1.0);
}

// Sums absorption areas at one frequency, as it is and with every coefficient held at 1 or below.
class AreaSum {
 public:
  explicit AreaSum(double hz) : hz_(hz) {}
  void add(const OctaveTable& table, double area_m2) {
    const double coefficient = absorption_at(table, hz_);
    open_ += coefficient * area_m2;
    capped_ += std::min(coefficient, 1.0) * area_m2;
  }
  [[nodiscard]] double open() const { return open_; }
  [[nodiscard]] double capped() const { return capped_; }

 private:
  double hz_;
  double open_ = 0;
  double capped_ = 0;
};

AreaSum empty_surfaces(const Church& church, double hz) {
  AreaSum sum(hz);
  for (const Surface& surface : church.surfaces) sum.add(surface.absorption, surface.area_m2);
  for (const Pews& block : church.pews) sum.add(block.empty, block.area_m2);
  return sum;
}

// What the people change, m2.
double people_area(const Church& church, int people, double hz) {
  if (people <= 0) return 0;
  if (church.people_count == PeopleCount::each) return people * absorption_at(church.person, hz);
  const double share = share_of_seats(church, people);
  double sum = 0;
  for (const Pews& block : church.pews) {
    sum += share * block.area_m2 * (absorption_at(block.full, hz) - absorption_at(block.empty, hz));
  }
  return sum;
}

bool published(const Church& church, int people, double hz) {
  const auto of_surface = [hz](const Surface& s) { return published_at(s.absorption, hz); };
  const auto of_pews = [&](const Pews& p) {
    const bool full_counts = people > 0 && church.people_count == PeopleCount::by_area;
    return published_at(p.empty, hz) && (!full_counts || published_at(p.full, hz));
  };
  const bool person_counts = people > 0 && church.people_count == PeopleCount::each;
  return std::all_of(church.surfaces.begin(), church.surfaces.end(), of_surface) &&
         std::all_of(church.pews.begin(), church.pews.end(), of_pews) &&
         (!person_counts || published_at(church.person, hz));
}

}  // namespace

Acoustics acoustics(const Church& church, int people) {
  Acoustics result;
  result.people = std::max(people, 0);
  result.volume_m3 = church.volume_m3;
  result.surface_m2 = church.surface_m2();
  for (std::size_t i = 0; i < kBandCount; ++i) {
    const double hz = hearing::mid_hz(i);
    const AreaSum surfaces = empty_surfaces(church, hz);
    result.surfaces_m2[i] = surfaces.open();
    result.people_m2[i] = people_area(church, people, hz);
    result.air_m2[i] = 4.0 * air_energy_constant_per_m(church.air, hz) * church.volume_m3;
    result.area_m2[i] = result.surfaces_m2[i] + result.people_m2[i] + result.air_m2[i];
    result.sabine_s[i] = sabine_s(church.volume_m3, result.area_m2[i]);
    const double mean = (surfaces.capped() + result.people_m2[i]) / result.surface_m2;
    result.eyring_s[i] = eyring_s({church.volume_m3, result.surface_m2, mean, result.air_m2[i]});
    result.extrapolated[i] = !published(church, people, hz);
  }
  return result;
}

}  // namespace loftbeat::room
