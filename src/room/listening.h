#pragma once

#include "room/acoustics.h"
#include "room/bands.h"
#include "room/church.h"

namespace loftbeat::room {

// Who listens.
enum class Place {
  people,  // someone in the middle of the congregation
  player,  // at the keys
};

// What arrives there of a source, dB re 20 uPa: direct sound (weakened by the air on its way) and
// the diffuse field of the church as it is filled.
//
// Of an organ, from its sound power in third octaves, dB re 1 pW.
[[nodiscard]] BandLevels heard_organ(const Church& church, const Acoustics& state, Place place,
                                     const BandLevels& organ_power);

// Of `singers` people who sing, spread evenly over the pews. Their own voice is not counted for
// someone among them. The direct sound of neighbours is that of a disc of the pews' area round the
// listener, from the nearest neighbour outwards: n/2 ln(R/r0) for n singers a square metre.
[[nodiscard]] BandLevels heard_singing(const Church& church, const Acoustics& state, Place place,
                                       int singers);

// Bands in which what is heard of both rests on extrapolated tables.
[[nodiscard]] BandMask extrapolated(const Acoustics& state);

}  // namespace loftbeat::room
