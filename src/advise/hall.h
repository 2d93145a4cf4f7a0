#pragma once

#include <array>
#include <optional>

#include "advise/stop_powers.h"
#include "hearing/hearing.h"
#include "room/room.h"

namespace loftbeat::advise {

// A church with so many people in it, of whom so many sing, as someone in the middle of the
// congregation hears it. What depends on the church alone is reckoned once here.
struct Hall {
  room::Acoustics acoustics;
  int singers = 0;
  hearing::BandLevels singing{};  // as it arrives at the listener; silence if nobody sings
  Power arriving{};  // mean square at the listener, re (20 uPa)^2, of 1 pW of the organ
};
[[nodiscard]] Hall make_hall(const room::Church& church, int people, int singers);

// Level at the listener of an organ of this sound power, dB re 20 uPa.
[[nodiscard]] hearing::BandLevels arriving(const Hall& hall, const Power& power);

// A registration as it is heard, steady.
struct Heard {
  double level_db = 0;                   // dB re 20 uPa, all bands
  double level_dba = 0;                  // A-weighted
  double sone = 0;                       // ISO 532-1, stationary, diffuse field; the organ alone
  std::optional<double> sharpness_acum;  // DIN 45692, the organ alone; none for silence
  std::optional<double> centroid_hz;
  double upper_sone = 0;  // the part of the loudness from 2 kHz up
  hearing::BandLevels levels{};
  // Lead, support and exposure over the hall's singing (hearing/over_singing.h).
  hearing::OverSinging over;
  // Share, 0 to 1, of `sone` in bands for which the church's tables have no figure.
  double extrapolated_share = 0;
};

// About 10 microseconds. Silence gives kSilenceDb and 0 sone.
[[nodiscard]] Heard heard(const Hall& hall, const Power& power, const hearing::VoiceBand& sung);

// The numbers of people for which lead, support and exposure are told.
inline constexpr std::array<int, 8> kPeopleCounts = {6, 12, 25, 50, 100, 150, 200, 300};

}  // namespace loftbeat::advise
