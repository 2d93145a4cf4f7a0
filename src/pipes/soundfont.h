#pragma once

#include <cstddef>
#include <functional>
#include <string>

#include "base/result.h"
#include "pipes/rank.h"

namespace loftbeat::pipes {

// A pipe of sound power P (dB re 1 pW) has in its sample an RMS of 10^((P - kFullScalePowerDb) /
// 20), where a sine of amplitude 1 has RMS 0.7071. Levels are in the samples: every
// initialAttenuation is 0, since players disagree about its unit (FluidSynth takes 0.4 of it). So
// the weakest pipes are rounded the most, and full scale lies as low as the loudest rank (the
// trombone, its peaks 0.3 dB below it) allows. What a player adds of its own is the player's
// business (voice/rt/fluid_pipes.cpp). Worked number: 92 dB gives RMS 0.141, -17 dB.
inline constexpr double kFullScalePowerDb = 109;

// Of samples, and what FluidSynth should play at: then the middle key of each zone is played as it
// stands, and its neighbours by interpolation: of the fourth order, which is FluidSynth's own
// choice and what pipe_power reckons with. The seventh order loses nothing at 12.5 kHz, but
// rendering takes 1.2 times as long.
inline constexpr int kSampleRate = 48000;

// Changes when the same recipes would make other bytes.
inline constexpr int kBuilderVersion = 3;

// Told after each sample: how many are done, of how many. May be empty.
using BuildProgress = std::function<void(std::size_t done, std::size_t total)>;

// The recipes as a SoundFont 2.04 file. The same recipes give the same bytes. One preset a rank in
// bank 0; one-channel samples, 16 bit, looped; key velocity, modulation and pressure do nothing.
// Errors: a rank that would exceed full scale (its power is too high). FFTW plans one thing at a
// time: not while another thread of the process lets room/ make an impulse response.
[[nodiscard]] Result<std::string> build_soundfont(const Recipes& recipes,
                                                  const BuildProgress& progress);

}  // namespace loftbeat::pipes
