#include "beats.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "hearing/spectrum.h"
#include "pipes/pipe_spectrum.h"
#include "pipes/pipes.h"
#include "pipes/sample.h"

namespace loftbeat::voice {
namespace {

struct Tone {
  double hz = 0;
  double power = 0;  // to a common factor
  std::size_t pipe = 0;
};

// As they lie in the loops that are played, which are off the recipes by what fits a loop.
std::vector<Tone> tones_of(const std::vector<PipeKey>& pipes) {
  std::vector<Tone> tones;
  for (std::size_t i = 0; i < pipes.size(); ++i) {
    const PipeKey& pipe = pipes[i];
    const pipes::Zone& zone = pipes::zone_of(pipe.key);
    const pipes::Loop loop =
        pipes::make_loop(*pipe.rank, zone, pipes::steady_sound(*pipe.rank, zone));
    const double ratio =
        std::exp2((pipe.key - zone.root) / 12.0 + pipes::key_cents(*pipe.rank, pipe.key) / 1200.0);
    const double bin_hz = ratio * pipes::kSampleRate / static_cast<double>(loop.length.points);
    for (const pipes::LoopTone& tone : loop.tones)
      tones.push_back({static_cast<double>(tone.bin) * bin_hz, tone.amplitude * tone.amplitude, i});
  }
  std::sort(tones.begin(), tones.end(), [](const Tone& a, const Tone& b) { return a.hz < b.hz; });
  return tones;
}

double kept(double hz, double seconds) {
  const double x = M_PI * hz * seconds;
  return x < 1e-9 ? 1 : std::sin(x) / x;
}

}  // namespace

hearing::BandLevels expected_beats_db(const std::vector<PipeKey>& pipes, double seconds) {
  constexpr double kFarApart = 20;  // periods in the time; beyond that next to nothing is kept
  std::array<double, hearing::kBandCount> power{};
  std::array<double, hearing::kBandCount> variance{};
  const std::vector<Tone> tones = tones_of(pipes);
  for (std::size_t i = 0; i < tones.size(); ++i) {
    double beating = 0;  // variance over the square of this tone's gain
    for (std::size_t j = i + 1; j < tones.size() && tones[j].hz - tones[i].hz < kFarApart / seconds;
         ++j) {
      if (tones[i].pipe == tones[j].pipe) continue;
      const double share = kept(tones[j].hz - tones[i].hz, seconds);
      beating += 2 * tones[i].power * tones[j].power * share * share;
    }
    for (std::size_t band = 0; band < power.size(); ++band) {
      const double gain = hearing::filter_power(band, tones[i].hz);
      power[band] += gain * tones[i].power;
      variance[band] += gain * gain * beating;
    }
  }
  hearing::BandLevels db{};
  for (std::size_t band = 0; band < db.size(); ++band)
    db[band] = power[band] > 0 ? 10 * std::log10(1 + std::sqrt(variance[band]) / power[band]) : 0;
  return db;
}

}  // namespace loftbeat::voice
