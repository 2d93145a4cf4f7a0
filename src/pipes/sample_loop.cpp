// The steady part of a sample. It is made in the frequency domain: whatever is put on whole bins
// comes out periodic in the loop, wind noise included, so that it cannot click.

#include <algorithm>
#include <cmath>
#include <complex>
#include <map>
#include <numbers>

#include "base/inverse_transform.h"
#include "pipes/noise.h"
#include "pipes/sample.h"
#include "pipes/seeded.h"
#include "pipes/soundfont.h"

namespace loftbeat::pipes {
namespace {

constexpr double kRate = kSampleRate;
constexpr double kCloseEnoughCents = 0.05;
constexpr double kTwoPi = 2 * std::numbers::pi;

struct LoopSeconds {
  double least;
  double most;
};
// Long enough that the noise in it does not drum, and that several pitches fit; short enough for
// the size of the file.
LoopSeconds loop_seconds(const Rank& rank, std::size_t pipes) {
  if (rank.ensemble.voices > 1) return {1.8, 2.0};
  if (pipes > 1) return {0.75, 0.95};
  return {0.4, 0.45};
}

double cents_off(double hz, double wanted_hz) { return std::abs(1200 * std::log2(hz / wanted_hz)); }

// One period of a sum of tones on whole bins.
class Spectrum {
 public:
  explicit Spectrum(std::size_t points) : transform_(points) {}
  void add(std::size_t bin, double amplitude, double phase) {
    if (2 * bin < transform_.samples()) transform_.add(bin, std::polar(amplitude / 2, phase));
  }
  // Uses the tones up.
  std::vector<double> period() {
    const double* signal = transform_.signal();
    return {signal, signal + transform_.samples()};
  }

 private:
  InverseTransform transform_;
};

// Phases after Schroeder: they bend with the power passed so far, which keeps the peaks of a rich
// tone low.
std::vector<double> low_peak_phases(const SteadySound& sound, Seeded& seeded) {
  std::vector<double> phases;
  double whole = 0;
  for (const SteadySound::Line& line : sound.lines) whole += line.power;
  double passed = 0;
  double phase = 0;
  for (const SteadySound::Line& line : sound.lines) {
    if (line.harmonic == 1) phase = kTwoPi * seeded.unit();
    phases.push_back(phase);
    passed += line.power / whole;
    phase -= kTwoPi * passed;
  }
  return phases;
}

// Partials of several pipes that come to the same frequency add up by power, as those of real pipes
// do on the long run; by chance of phase they would be up to 6 dB stronger or gone.
void add_tone(std::vector<LoopTone>& tones, std::map<std::size_t, std::size_t>& at,
              const LoopTone& tone) {
  const auto [place, fresh] = at.emplace(tone.bin, tones.size());
  if (fresh) {
    tones.push_back(tone);
  } else {
    double& amplitude = tones[place->second].amplitude;
    amplitude = std::hypot(amplitude, tone.amplitude);
  }
}

std::vector<LoopTone> place_tones(const SteadySound& sound, const LoopLength& length,
                                  Seeded& seeded, bool at_random) {
  std::vector<double> phases = low_peak_phases(sound, seeded);
  std::vector<LoopTone> tones;
  std::map<std::size_t, std::size_t> at;  // bin -> index in tones
  for (std::size_t i = 0; i < sound.lines.size(); ++i) {
    const SteadySound::Line& line = sound.lines[i];
    const double bin = static_cast<double>(length.periods[line.pipe]) * line.harmonic;
    const double aside = std::round(bin * (std::exp2(line.cents / 1200) - 1));
    if (at_random) phases[i] = kTwoPi * seeded.unit();
    add_tone(tones, at,
             {static_cast<std::size_t>(bin + aside), amplitude_of(line.power), phases[i],
              line.harmonic});
  }
  return tones;
}

std::vector<double> noise_period(const Wind& wind, const SteadySound& sound, std::size_t points,
                                 Seeded& seeded) {
  const double step = kRate / static_cast<double>(points);
  std::vector<double> powers(points / 2 + 1);
  double whole = 0;
  for (std::size_t k = 1; k < powers.size(); ++k) {
    powers[k] = noise_density(wind, sound.noise_from_hz, step * static_cast<double>(k));
    whole += powers[k];
  }
  if (whole <= 0 || sound.noise_power <= 0) return std::vector<double>(points, 0.0);
  Spectrum spectrum(points);
  for (std::size_t k = 1; k < powers.size(); ++k)
    if (powers[k] > 0)
      spectrum.add(k, amplitude_of(sound.noise_power * powers[k] / whole), kTwoPi * seeded.unit());
  return spectrum.period();
}

}  // namespace

LoopLength loop_length(const std::vector<double>& pipe_hz, std::size_t least, std::size_t most) {
  LoopLength best;
  for (std::size_t points = least; points <= most; ++points) {
    LoopLength trial;
    trial.points = points;
    for (const double hz : pipe_hz) {
      const double periods = std::max(1.0, std::round(hz * static_cast<double>(points) / kRate));
      trial.periods.push_back(static_cast<std::size_t>(periods));
      trial.worst_cents =
          std::max(trial.worst_cents, cents_off(periods * kRate / static_cast<double>(points), hz));
    }
    if (best.points == 0 || trial.worst_cents < best.worst_cents) best = std::move(trial);
    if (best.worst_cents < kCloseEnoughCents) break;
  }
  return best;
}

Loop make_loop(const Rank& rank, const Zone& zone, const SteadySound& sound) {
  const LoopSeconds seconds = loop_seconds(rank, sound.pipe_hz.size());
  Loop loop;
  loop.length = loop_length(sound.pipe_hz, static_cast<std::size_t>(seconds.least * kRate),
                            static_cast<std::size_t>(seconds.most * kRate));
  Seeded seeded(rank.id, zone.root, -2);
  loop.tones = place_tones(sound, loop.length, seeded, rank.ensemble.voices > 1);
  loop.noise = noise_period(rank.wind, sound, loop.length.points, seeded);
  Spectrum spectrum(loop.length.points);
  for (const LoopTone& tone : loop.tones) spectrum.add(tone.bin, tone.amplitude, tone.phase);
  loop.sum = spectrum.period();
  for (std::size_t i = 0; i < loop.sum.size(); ++i) loop.sum[i] += loop.noise[i];
  return loop;
}

}  // namespace loftbeat::pipes
