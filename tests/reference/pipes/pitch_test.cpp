// Source of what is expected: equal temperament on A4 = 440 Hz (ISO 16), just ratios of the
// harmonic series for mutations and mixtures (common practice, no source). Source of what is
// measured: aubio's pitch detection on what FluidSynth renders.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <utility>

#include "pipes/pipes.h"
#include "rendered.h"

namespace loftbeat::pipes {
namespace {

constexpr double kTwoPi = 6.283185307179586;

double cents(double hz, double of) { return 1200 * std::log2(hz / of); }

// aubio itself, on tones whose pitch is known by formula. Its phase vocoder is near exact for a
// tone that stands alone.
TEST(Aubio, TellsThePitchOfASineWithinATenthOfACent) {
  for (const double hz : {61.7, 130.81, 440.0, 1046.9, 2093.0, 3951.3}) {
    std::vector<float> sine(72000);
    for (std::size_t i = 0; i < sine.size(); ++i) {
      const double t = static_cast<double>(i) / 48000;
      sine[i] =
          static_cast<float>(0.1 * std::sin(kTwoPi * hz * t) + 0.1 * std::sin(kTwoPi * 2 * hz * t));
    }
    EXPECT_NEAR(cents(pitch_by_aubio(isolated(sine, hz)), hz), 0, 0.1) << hz;
  }
}

// The expected pitch of each pipe, reckoned here from the recipe's foot pitches alone.
double expected_hz(const Rank& rank, double feet, int key) {
  return 440 * std::exp2((key - 69) / 12.0) * 8 / feet * std::exp2(rank.offset_cents / 1200);
}

double measured(const Rank& rank, const std::vector<float>& sound, double hz) {
  if (rank.family == organ::Family::voice) return middle_by_fftw(sound, hz);
  return pitch_by_aubio(isolated(sound, hz));
}

TEST(RanksAsRendered, LieWithinThreeCentsOfTheirIntendedPitch) {
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok()) << to_string(recipes.error());
  Renderer renderer(ranks_file());
  ASSERT_TRUE(renderer.loaded());
  const int stride = std::getenv("LOFTBEAT_QUICK") != nullptr ? 60 : 7;
  double worst = 0;
  int pipes = 0;
  for (const Rank& rank : recipes->ranks) {
    const double seconds = rank.family == organ::Family::voice ? 4.0 : 1.2;
    for (int key = 36 + rank.program % 5; key <= 96; key += stride) {
      std::vector<float> sound;
      const Step* step = &rank.steps.front();
      for (const Step& at : rank.steps)
        if (at.from_key <= key) step = &at;
      for (const double feet : step->feet) {
        const double hz = expected_hz(rank, feet, key);
        if (hz < 60 || hz > 4000) continue;
        if (sound.empty()) sound = renderer.render(rank.program, key, 0.7, seconds);
        const double off = cents(measured(rank, sound, hz), hz);
        EXPECT_LE(std::abs(off), 3.0) << rank.id << " key " << key << " at " << feet << "'";
        worst = std::max(worst, std::abs(off));
        ++pipes;
      }
    }
  }
  std::printf("%d pipes, the worst %.2f cents from its intended pitch\n", pipes, worst);
  EXPECT_GT(pipes, 20);
}

}  // namespace
}  // namespace loftbeat::pipes
