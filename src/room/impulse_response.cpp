#include "room/impulse_response.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include "base/inverse_transform.h"

namespace loftbeat::room {
namespace {

constexpr double kSixtyDecibels = 6.907755278982137;  // ln(10^3): amplitude down by 60 dB
constexpr double kLengthInTimes = 1.1;                // 66 dB down

// How a frequency is shared between bands: between two middles it passes from the one to the other
// so that the powers add up to 1. Outside the outermost middles all is theirs.
double amplitude_in_band(std::size_t band, double hz) {
  const double place = std::clamp(10.0 * std::log10(hz / hearing::mid_hz(0)), 0.0,
                                  static_cast<double>(kBandCount - 1));
  const double away = std::abs(place - static_cast<double>(band));
  return away >= 1.0 ? 0.0 : std::cos(away * std::numbers::pi / 2.0);
}

struct BinRange {
  std::size_t first;
  std::size_t end;
};

// The bins that can have a share in a band, without those of 0 Hz and of half the sampling rate.
BinRange bins_of(std::size_t band, double hz_per_bin, std::size_t bins) {
  const double low = band == 0 ? 0.0 : hearing::mid_hz(band - 1) / hz_per_bin;
  const double high =
      band + 1 == kBandCount ? 1e300 : std::ceil(hearing::mid_hz(band + 1) / hz_per_bin);
  const auto last = static_cast<double>(bins - 1);
  return {std::max<std::size_t>(1, static_cast<std::size_t>(std::min(low, last))),
          static_cast<std::size_t>(std::min(high, last))};
}

struct Tail {
  double sample_rate_hz;
  std::size_t length;
  std::mt19937 random;
};

// Fills the band with noise of random phase; returns the energy that the band would have for a
// power gain of 1 at all its frequencies.
double fill_band(InverseTransform& transform, std::size_t band, Tail& tail) {
  const double hz_per_bin = tail.sample_rate_hz / static_cast<double>(transform.samples());
  const auto [first, end] = bins_of(band, hz_per_bin, transform.bins());
  double energy = 0;
  transform.clear();
  for (std::size_t bin = first; bin < end; ++bin) {
    const double amplitude = amplitude_in_band(band, static_cast<double>(bin) * hz_per_bin);
    const double turn = static_cast<double>(tail.random()) / 4294967296.0;
    transform.set(bin, std::polar(amplitude, 2.0 * std::numbers::pi * turn));
    energy += 2.0 * amplitude * amplitude;
  }
  return energy / static_cast<double>(transform.samples());
}

// Lets the band die away and adds it with just the energy it is to have.
void add_band(const double* noise, double time_s, double energy, const Tail& tail,
              std::vector<double>& into) {
  const double per_sample = std::exp(-kSixtyDecibels / (time_s * tail.sample_rate_hz));
  double sum = 0;
  double envelope = 1;
  std::vector<double> decayed(tail.length);
  for (std::size_t i = 0; i < tail.length; ++i, envelope *= per_sample) {
    decayed[i] = noise[i] * envelope;
    sum += decayed[i] * decayed[i];
  }
  if (sum <= 0) return;
  const double scale = std::sqrt(energy / sum);
  for (std::size_t i = 0; i < tail.length; ++i) into[i] += scale * decayed[i];
}

std::size_t response_samples(const Acoustics& state, const ResponseSpec& spec) {
  const double longest = *std::max_element(state.sabine_s.begin(), state.sabine_s.end());
  const double seconds = std::min(kLengthInTimes * longest, std::clamp(spec.longest_s, 0.1, 20.0));
  return static_cast<std::size_t>(std::max(seconds, 0.05) * spec.sample_rate_hz);
}

std::size_t power_of_two_from(std::size_t least) {
  std::size_t size = 1;
  while (size < least) size *= 2;
  return size;
}

}  // namespace

std::vector<float> impulse_response(const Acoustics& state, const ResponseSpec& spec) {
  Tail tail{spec.sample_rate_hz, response_samples(state, spec), std::mt19937(spec.seed)};
  std::vector<double> sum(tail.length);
  InverseTransform transform(power_of_two_from(tail.length));
  for (std::size_t band = 0; band < kBandCount; ++band) {
    const double full_energy = fill_band(transform, band, tail);
    const double gain = 16.0 * std::numbers::pi / state.area_m2[band];
    add_band(transform.signal(), state.sabine_s[band], gain * full_energy, tail, sum);
  }
  sum[0] += std::sqrt(spec.directivity) / spec.distance_m;
  return {sum.begin(), sum.end()};
}

}  // namespace loftbeat::room
