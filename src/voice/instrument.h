#pragma once

#include <cstddef>
#include <memory>
#include <string>

#include "base/result.h"
#include "organ/organ.h"
#include "pipes/rank.h"
#include "room/church.h"
#include "voice/rt/player.h"

namespace loftbeat::voice {

// An organ with pipes in it, in a church or without one, ready to play. Not for the audio thread.

// Output is calibrated: an RMS of 1 of full scale stands for so many dB re 20 uPa at the listener.
// With it a chord on one flute lies near -35 dB, full organ in a stone church near -10.
inline constexpr double kFullScaleSplDb = 112;

// Without a church the pipes are heard as in one of 200 m2 absorption, its reverberation left out:
// sound power - 10 lg(200 / 4), so that dry and reverberant sound are about equally loud.
inline constexpr double kDryLossDb = 16.99;

struct InstrumentOrder {
  const organ::Organ* organ = nullptr;      // not null
  const pipes::Recipes* recipes = nullptr;  // not null; those that the SoundFont was made from
  std::string soundfont;                    // path
  const room::Church* church = nullptr;     // null: dry
  int people = 0;                           // in the church
  // Frames rendered at a time: 128 to be quick at the keys, 8192 for files (less work).
  std::size_t quantum = 128;
  rt::LimiterUse limiter = rt::LimiterUse::on;
  double volume_db = 0;       // on top of the calibration, -80 to 40
  double quiet_start_db = 0;  // see rt::PlayerSpec
};

// Errors: a stop whose rank is in no recipe (with the nearest), or lies a broken number of octaves
// from it; what FluidSynth refuses; a room that cannot be set up. Takes about a second for a long
// room.
[[nodiscard]] Result<std::unique_ptr<rt::Player>> make_player(const InstrumentOrder& order);

// What a partial of 1 pW of the rank's own comes out at for a stop, dB re an RMS of 1 of full
// scale, dry and without limiter, in each of the two channels. Worked number: 92 dB re 1 pW at
// power 0: 92 - 16.99 - 112 = -36.99 dB.
[[nodiscard]] double dry_gain_db(const organ::Organ& organ, const organ::Stop& stop);

// How many voices the organ may need at once: each stop with a chord of twelve keys and octave
// couplers, old ones still dying away; 256 to 8192.
[[nodiscard]] int polyphony_for(const organ::Organ& organ);

}  // namespace loftbeat::voice
