#pragma once

#include <array>

#include "hearing/loudness.h"
#include "room/bands.h"
#include "room/church.h"
#include "room/listening.h"

namespace loftbeat::room {

// What a full church takes from an organ, told apart for each octave: by absorption (people and
// clothes swallow sound) and by masking (people sing). Nothing here is tuned; it is what the
// published coefficients and voice spectra give.

struct OctaveEffect {
  double nominal_hz = 0;
  // Change of the diffuse level of any steady source from empty to full, dB; negative = softer.
  // 10 lg(A empty / A full).
  double absorption_db = 0;
  // The organ's loudness in the critical bands of this octave, sone: alone in the empty church,
  // alone in the full one, and what is left of it over the singing in the full one,
  // N'(organ + singing) - N'(singing).
  double empty_sone = 0;
  double full_sone = 0;
  double over_singing_sone = 0;
  // Level of the singing less that of the organ in the full church, dB. Minus infinity when
  // nobody sings, not a number when the organ has nothing there either.
  double singing_minus_organ_db = 0;

  [[nodiscard]] double lost_by_absorption_sone() const { return empty_sone - full_sone; }
  [[nodiscard]] double lost_by_masking_sone() const { return full_sone - over_singing_sone; }
};

struct PeopleEffect {
  // The loudness below 63 Hz goes with the octave of 63 Hz, that above 8 kHz with 8 kHz.
  std::array<OctaveEffect, kOctaveCount> octaves;
  double empty_sone = 0;
  double full_sone = 0;
  double over_singing_sone = 0;
  // Share, 0 to 1, of `over_singing_sone` in bands that rest on extrapolated tables.
  double extrapolated_share = 0;
};

struct PeopleQuestion {
  int people = 0;   // in the full church
  int singers = 0;  // of whom so many sing
  Place place = Place::people;
  hearing::SoundField field = hearing::SoundField::diffuse;
};

// `organ_power`: sound power of the registration in third octaves, dB re 1 pW.
[[nodiscard]] PeopleEffect people_effect(const Church& church, const BandLevels& organ_power,
                                         const PeopleQuestion& question);

}  // namespace loftbeat::room
