#pragma once

#include "room/bands.h"
#include "room/church.h"

namespace loftbeat::room {

// What a church does to sound with so many people in it, in third octaves 25 Hz to 12.5 kHz.
struct Acoustics {
  int people = 0;
  double volume_m3 = 0;
  double surface_m2 = 0;
  BandValues surfaces_m2{};  // absorption area of walls, windows, floors and pews
  BandValues people_m2{};    // what the people add to it (0 when nobody is there)
  BandValues air_m2{};       // 4 m V
  BandValues area_m2{};      // all of it: what Sabine's formula and the level go by
  BandValues sabine_s{};
  BandValues eyring_s{};
  // Bands outside the octaves for which every surface has a published figure.
  BandMask extrapolated;
};

// With `people` heads, 0 = empty. More people than seats stand in the aisles when they count each;
// by area the pews are full and no more. Coefficients above 1 count as 1 in Eyring's formula.
// Requires a church with volume, surface and some absorption (as the reader makes sure).
// Worked number: 3600 m3 of plaster, glass and marble, pews empty: 9.6 s at 500 Hz, 3.0 s when
// full.
[[nodiscard]] Acoustics acoustics(const Church& church, int people);

}  // namespace loftbeat::room
