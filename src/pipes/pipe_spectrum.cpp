#include "pipes/pipe_spectrum.h"

#include <algorithm>
#include <cmath>

#include "hearing/bands.h"
#include "pipes/pitch.h"
#include "pipes/seeded.h"

namespace loftbeat::pipes {
namespace {

constexpr double kMiddleCHz = 261.6255653;
constexpr int kMiddleC = 60;
constexpr double kHighestPartialHz = 18000;  // also when played as high as its zone goes
constexpr double kFaintestDb = -80;          // against the strongest partial of the pipe

double formants_db(const Tone& tone, double hz) {
  double sum = 0;
  for (const Formant& formant : tone.formants) {
    const double away = (hz - formant.hz) / formant.width_hz;
    sum += formant.db / (1 + away * away);
  }
  return sum;
}

// Power of the harmonics of one pipe, summing to 1; index 0 is harmonic 1.
std::vector<double> harmonic_shares(const Tone& tone, double hz, double top_hz) {
  std::vector<double> levels;
  for (int n = 1; n == 1 || n * hz < top_hz; ++n) levels.push_back(harmonic_db(tone, hz, n));
  const double strongest = *std::max_element(levels.begin(), levels.end());
  double sum = 0;
  for (double& level : levels) {
    level = level < strongest + kFaintestDb ? 0 : hearing::power_from_level(level);
    sum += level;
  }
  for (double& share : levels) share /= sum;
  return levels;
}

double source_cents(const Ensemble& ensemble, int source) {
  if (ensemble.voices == 1) return 0;
  return ensemble.spread_cents * (2.0 * source / (ensemble.voices - 1) - 1);
}

}  // namespace

double SteadySound::hz(const Line& line) const {
  return pipe_hz[line.pipe] * line.harmonic * std::exp2(line.cents / 1200);
}

double harmonic_db(const Tone& tone, double pipe_hz, int harmonic) {
  const double n = harmonic;
  const double corner =
      std::max(1.0, tone.corner * std::pow(kMiddleCHz / pipe_hz, tone.corner_fall));
  double db = -tone.below_db * std::log2(std::min(n, corner));
  if (n > corner) db -= tone.above_db * std::log2(n / corner);
  if (harmonic % 2 == 0) db += std::min(tone.even_most_db, tone.even_db + tone.even_rise_db * n);
  return db + formants_db(tone, n * pipe_hz);
}

SteadySound steady_sound(const Rank& rank, const Zone& zone) {
  SteadySound sound;
  const std::vector<double> intended = intended_hz(rank, zone.root);
  const double octaves = (zone.root - kMiddleC) / 12.0;
  const double whole =
      hearing::power_from_level(rank.power_db + rank.power_per_octave_db * octaves);
  const double noise_share = hearing::power_from_level(rank.wind.noise_db);
  const double top_hz = kHighestPartialHz * std::exp2((zone.root - zone.highest) / 12.0);
  for (std::size_t p = 0; p < intended.size(); ++p) {
    Seeded seeded(rank.id, zone.root, static_cast<int>(p));
    const double hz =
        intended[p] * std::exp2((rank.tuning_cents + seeded.within(rank.scatter.cents)) / 1200);
    const double own = whole / static_cast<double>(intended.size()) *
                       hearing::power_from_level(seeded.within(rank.scatter.db));
    sound.pipe_hz.push_back(hz);
    sound.noise_power += own * noise_share / (1 + noise_share);
    const std::vector<double> shares = harmonic_shares(rank.tone, hz, top_hz);
    for (std::size_t i = 0; i < shares.size(); ++i) {
      if (shares[i] <= 0) continue;
      const double power = own * shares[i] / (1 + noise_share) / rank.ensemble.voices;
      for (int source = 0; source < rank.ensemble.voices; ++source)
        sound.lines.push_back(
            {p, static_cast<int>(i) + 1, source_cents(rank.ensemble, source), power});
    }
  }
  sound.noise_from_hz = *std::min_element(sound.pipe_hz.begin(), sound.pipe_hz.end());
  return sound;
}

int key_cents(const Rank& rank, int key) {
  if (!has_key(key) || key == zone_of(key).root) return 0;
  Seeded seeded(rank.id, key, -1);
  const int cents =
      rank.scatter.cents > 0 ? static_cast<int>(std::lround(seeded.within(1.4999))) : 0;
  // Rather back towards the true pitch than further away: with the scatter it stays below 3 cents.
  constexpr double kFarOff = 1.5;
  return std::abs(rank.tuning_cents + cents) > kFarOff ? -cents : cents;
}

}  // namespace loftbeat::pipes
