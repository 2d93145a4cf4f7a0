#include "room/impulse_response.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "church_fixture.h"
#include "hearing/filter_bank.h"

namespace loftbeat::room {
namespace {

constexpr std::size_t kBlock = 480;  // 10 ms

using Decay = std::vector<double>;  // mean square of each block in one band

// Adds the squares of a response in every band, block by block.
void add_decays(const std::vector<float>& response, std::array<Decay, kBandCount>& into) {
  hearing::FilterBank bank;
  for (std::size_t at = 0; at + kBlock <= response.size(); at += kBlock) {
    bank.feed(std::span(response).subspan(at, kBlock));
    const BandLevels levels = bank.take_levels();
    for (std::size_t band = 0; band < kBandCount; ++band) {
      into[band].resize(response.size() / kBlock);
      into[band][at / kBlock] += hearing::power_from_level(levels[band]);
    }
  }
}

// Reverberation time from the backward integral between -5 and -35 dB, T30 of ISO 3382.
double t30(const Decay& decay) {
  std::vector<double> left(decay.size() + 1);
  for (std::size_t i = decay.size(); i-- > 0;) left[i] = left[i + 1] + decay[i];
  const auto reached = [&](double db) {
    std::size_t i = 0;
    while (i + 1 < left.size() && 10 * std::log10(left[i] / left[0]) > db) ++i;
    return static_cast<double>(i) * 0.01;
  };
  return 2 * (reached(-35) - reached(-5));
}

class Response : public testing::Test {
 protected:
  const Church church_ = village_church();
  const Acoustics state_ = acoustics(church_, 150);
};

TEST_F(Response, RingsAsLongAsTheRoomSays) {
  constexpr int kSeeds = 4;
  std::array<Decay, kBandCount> decays;
  for (std::uint32_t seed = 1; seed <= kSeeds; ++seed) {
    add_decays(impulse_response(state_, {.distance_m = 1000, .seed = seed}), decays);
  }
  for (std::size_t octave = 1; octave < kOctaveCount - 1; ++octave) {
    const std::size_t band = band_of_octave(octave);
    const double expected = state_.sabine_s[band];
    // Noise decays are never alike. Spread of T30 over n decays in a band of width B (ISO 3382-2,
    // from memory): 0.55 T sqrt((1 + 1.52 / n) / (B T)); three times that.
    const double width = hearing::upper_edge_hz(band) - hearing::lower_edge_hz(band);
    const double spread = 0.55 * std::sqrt((1 + 1.52 / kSeeds) / (width * expected));
    EXPECT_NEAR(t30(decays[band]) / expected, 1.0, 3 * spread) << kOctaveHz[octave];
  }
}

// Energy: the spectrum of the response, averaged over an octave, is 16 pi / A there.
TEST_F(Response, HasTheEnergyOfTheDiffuseField) {
  const std::vector<float> response = impulse_response(state_, {.distance_m = 1e6, .longest_s = 2});
  const double rate = 48000;
  for (const std::size_t octave : {2U, 3U, 4U, 5U}) {
    const std::size_t band = band_of_octave(octave);
    double sum = 0;
    constexpr int kProbes = 120;
    for (int k = 0; k < kProbes; ++k) {
      const double hz = hearing::lower_edge_hz(band) *
                        std::pow(hearing::upper_edge_hz(band) / hearing::lower_edge_hz(band),
                                 (k + 0.5) / kProbes);
      // Goertzel's recursion: the transform at one frequency.
      const double w = 2 * std::numbers::pi * hz / rate;
      double s1 = 0;
      double s2 = 0;
      for (const float x : response) {
        const double s = static_cast<double>(x) + 2 * std::cos(w) * s1 - s2;
        s2 = s1;
        s1 = s;
      }
      sum += s1 * s1 + s2 * s2 - 2 * std::cos(w) * s1 * s2;
    }
    const double expected = 16 * std::numbers::pi / state_.area_m2[band];
    // 120 independent probes of an exponential spread: standard error 9 %, 0.4 dB.
    EXPECT_NEAR(10 * std::log10(sum / kProbes / expected), 0, 1.3) << kOctaveHz[octave];
  }
}

TEST_F(Response, DirectSoundComesFirst) {
  const ResponseSpec near{.distance_m = 2, .directivity = 4, .longest_s = 1};
  ResponseSpec far = near;
  far.distance_m = 8;
  const auto one = impulse_response(state_, near);
  const auto other = impulse_response(state_, far);
  ASSERT_EQ(one.size(), other.size());
  EXPECT_NEAR(one[0] - other[0], 2.0 / 2 - 2.0 / 8, 1e-5);
  for (std::size_t i = 1; i < one.size(); ++i) ASSERT_EQ(one[i], other[i]);
}

TEST_F(Response, SeedsMakeUnlikeChannelsAndLikeRuns) {
  const ResponseSpec left{.distance_m = 1e6, .seed = 1, .longest_s = 1};
  ResponseSpec right = left;
  right.seed = 2;
  const auto a = impulse_response(state_, left);
  const auto b = impulse_response(state_, right);
  EXPECT_EQ(a, impulse_response(state_, left));
  double aa = 0;
  double ab = 0;
  double bb = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    aa += static_cast<double>(a[i]) * static_cast<double>(a[i]);
    ab += static_cast<double>(a[i]) * static_cast<double>(b[i]);
    bb += static_cast<double>(b[i]) * static_cast<double>(b[i]);
  }
  EXPECT_LT(std::abs(ab) / std::sqrt(aa * bb), 0.2);
  EXPECT_NEAR(10 * std::log10(aa / bb), 0, 0.2);
}

TEST_F(Response, LengthIsBounded) {
  EXPECT_EQ(impulse_response(state_, {.longest_s = 0.5}).size(), 24000U);
  EXPECT_EQ(impulse_response(state_, {.sample_rate_hz = 8000, .longest_s = 0.5}).size(), 4000U);
  const auto whole = impulse_response(state_, {});
  double longest = 0;
  for (const double t : state_.sabine_s) longest = std::max(longest, t);
  EXPECT_NEAR(static_cast<double>(whole.size()) / 48000, 1.1 * longest, 0.001);
}

}  // namespace
}  // namespace loftbeat::room
