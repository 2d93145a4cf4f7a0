#include "room/church.h"

namespace loftbeat::room {

double Church::pew_area_m2() const {
  double sum = 0;
  for (const Pews& block : pews) sum += block.area_m2;
  return sum;
}

int Church::seats() const {
  int sum = 0;
  for (const Pews& block : pews) sum += block.seats;
  return sum;
}

double Church::surface_m2() const {
  double sum = pew_area_m2();
  for (const Surface& surface : surfaces) sum += surface.area_m2;
  return sum;
}

}  // namespace loftbeat::room
