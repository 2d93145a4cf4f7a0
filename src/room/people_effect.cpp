#include "room/people_effect.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::room {
namespace {

using hearing::Loudness;

struct CriticalBands {
  std::size_t first;
  std::size_t last;
};

CriticalBands critical_bands_of(std::size_t octave) {
  const std::size_t middle = band_of_octave(octave);
  const std::size_t last = octave + 1 < kOctaveCount ? hearing::critical_band_of(middle + 1)
                                                     : hearing::kCriticalBandCount - 1;
  return {octave == 0 ? 0 : hearing::critical_band_of(middle - 1), last};
}

double octave_level(const BandLevels& levels, std::size_t octave) {
  const std::size_t middle = band_of_octave(octave);
  return hearing::power_sum(hearing::power_sum(levels[middle - 1], levels[middle]),
                            levels[middle + 1]);
}

double sone_in(const Loudness& of, const CriticalBands& bands) {
  return hearing::sone_between(of, bands.first, bands.last);
}

// The part of a difference of loudness that lies in critical bands fed by marked bands.
double left_over_in(const Loudness& both, const Loudness& singing, const BandMask& marked) {
  return hearing::share_of_loudness(both, marked) * both.sone -
         hearing::share_of_loudness(singing, marked) * singing.sone;
}

}  // namespace

PeopleEffect people_effect(const Church& church, const BandLevels& organ_power,
                           const PeopleQuestion& question) {
  const Acoustics empty = acoustics(church, 0);
  const Acoustics full = acoustics(church, question.people);
  const BandLevels organ = heard_organ(church, full, question.place, organ_power);
  const BandLevels singing = heard_singing(church, full, question.place, question.singers);
  const Loudness in_empty =
      hearing::loudness(heard_organ(church, empty, question.place, organ_power), question.field);
  const Loudness in_full = hearing::loudness(organ, question.field);
  const Loudness voices = hearing::loudness(singing, question.field);
  const Loudness both = hearing::loudness(hearing::power_sum(organ, singing), question.field);

  PeopleEffect result;
  for (std::size_t i = 0; i < kOctaveCount; ++i) {
    const CriticalBands bands = critical_bands_of(i);
    OctaveEffect& effect = result.octaves[i];
    effect.nominal_hz = kOctaveHz[i];
    const std::size_t middle = band_of_octave(i);
    effect.absorption_db = 10.0 * std::log10(empty.area_m2[middle] / full.area_m2[middle]);
    effect.empty_sone = sone_in(in_empty, bands);
    effect.full_sone = sone_in(in_full, bands);
    effect.over_singing_sone = sone_in(both, bands) - sone_in(voices, bands);
    effect.singing_minus_organ_db = octave_level(singing, i) - octave_level(organ, i);
  }
  result.empty_sone = in_empty.sone;
  result.full_sone = in_full.sone;
  result.over_singing_sone = both.sone - voices.sone;
  if (result.over_singing_sone > 0) {
    const double part = left_over_in(both, voices, extrapolated(full));
    result.extrapolated_share = std::clamp(part / result.over_singing_sone, 0.0, 1.0);
  }
  return result;
}

}  // namespace loftbeat::room
