#pragma once

#include <cstddef>
#include <functional>
#include <string>

#include "base/result.h"
#include "pipes/rank.h"

namespace loftbeat::pipes {

// A pipe of sound power P (dB re 1 pW) comes out of FluidSynth at gain 1, panned to one side, with
// an RMS of 10^((P - kFullScalePowerDb) / 20), where a sine of amplitude 1 has RMS 0.7071. Levels
// are in the samples: every initialAttenuation is 0, since players disagree about its unit
// (FluidSynth takes 0.4 of it). Worked number: 92 dB gives RMS 0.126, -18 dB.
inline constexpr double kFullScalePowerDb = 110;

// What FluidSynth 2.3 adds to any sample at gain 1, volume and expression 127, one side (measured):
// 1.505 dB by the make-up gain of its filter at a Q of 0, less 0.2 dB by its controllers. The
// samples are weaker by so much. Other players need not have it.
inline constexpr double kFluidSynthGainDb = 1.305;

// Of samples, and what FluidSynth should play at: then the middle key of each zone is played as it
// stands, and its neighbours by interpolation. Seventh order (FLUID_INTERP_7THORDER) keeps every
// third octave within 0.5 dB of pipe_power; fourth order, FluidSynth's own choice, loses up to 1.2
// dB at 12.5 kHz.
inline constexpr int kSampleRate = 48000;

// Changes when the same recipes would make other bytes.
inline constexpr int kBuilderVersion = 2;

// Told after each sample: how many are done, of how many. May be empty.
using BuildProgress = std::function<void(std::size_t done, std::size_t total)>;

// The recipes as a SoundFont 2.04 file. The same recipes give the same bytes. One preset a rank in
// bank 0; one-channel samples, 16 bit, looped; key velocity, modulation and pressure do nothing.
// Errors: a rank that would exceed full scale (its power is too high). FFTW plans one thing at a
// time: not while another thread of the process lets room/ make an impulse response.
[[nodiscard]] Result<std::string> build_soundfont(const Recipes& recipes,
                                                  const BuildProgress& progress);

}  // namespace loftbeat::pipes
