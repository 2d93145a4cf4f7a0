#include "advise/hall.h"

namespace loftbeat::advise {
namespace {

constexpr auto kField = hearing::SoundField::diffuse;
constexpr auto kPlace = room::Place::people;

}  // namespace

Hall make_hall(const room::Church& church, int people, int singers) {
  Hall hall;
  hall.acoustics = room::acoustics(church, people);
  hall.singers = singers;
  hall.singing = room::heard_singing(church, hall.acoustics, kPlace, singers);
  const hearing::BandLevels of_one_pw =
      room::heard_organ(church, hall.acoustics, kPlace, hearing::BandLevels{});
  for (std::size_t i = 0; i < of_one_pw.size(); ++i) {
    hall.arriving[i] = hearing::power_from_level(of_one_pw[i]);
  }
  return hall;
}

hearing::BandLevels arriving(const Hall& hall, const Power& power) {
  Power there = power;
  for (std::size_t i = 0; i < there.size(); ++i) there[i] *= hall.arriving[i];
  return levels_of(there);
}

Heard heard(const Hall& hall, const Power& power, const hearing::VoiceBand& sung) {
  Heard result;
  result.levels = arriving(hall, power);
  const hearing::Loudness loud = hearing::loudness(result.levels, kField);
  result.level_db = hearing::total_level(result.levels);
  result.level_dba = hearing::a_weighted_level(result.levels);
  result.sone = loud.sone;
  result.sharpness_acum = hearing::sharpness_acum(loud);
  result.centroid_hz = hearing::centroid_hz(result.levels);
  result.upper_sone = hearing::upper_band_sone(loud);
  result.over = hearing::over_singing(result.levels, hall.singing, sung, kField);
  result.extrapolated_share = hearing::share_of_loudness(loud, hall.acoustics.extrapolated);
  return result;
}

}  // namespace loftbeat::advise
