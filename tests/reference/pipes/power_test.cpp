// Source: none outside; what pipe_power reckons from the recipe is held against an analysis of what
// FluidSynth renders, by the filters of ISO 532-1 (which have reference tests of their own).

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <span>

#include "hearing/filter_bank.h"
#include "pipes/pipes.h"
#include "rendered.h"

namespace loftbeat::pipes {
namespace {

// FluidSynth interpolates at 256 places between two points; what that adds to a key off its zone's
// root lies some 60 dB below each partial (6.3 * 8 kHz / 48 kHz / 256 / 3.5 at 8 kHz), and the
// partials are many. Bands weaker than this against the strongest hold little else.
constexpr double kWeakBandDb = -45;

// Seconds analysed, besides those that settle the filters: beats between the pipes of a mixture and
// between voices average out over several loops (0.8 s, 1.8 s).
double seconds_for(const Rank& rank) {
  if (rank.family == organ::Family::voice) return 3.7;
  return rank.family == organ::Family::mixture ? 3.2 : 0.9;
}
constexpr double kSettling = 0.6;

// The rendered sound as sound power: full scale is kFullScalePowerDb.
// The first 0.6 s only settle the filters: the narrowest still ring by a weak share after 0.2 s.
hearing::BandLevels analysed(const std::vector<float>& sound) {
  const auto settling = static_cast<std::size_t>(kSettling * 48000);
  std::vector<float> pascals = sound;
  for (float& p : pascals) p *= 20e-6F;  // an RMS of 1 reads 0 dB
  hearing::FilterBank bank;
  bank.skip(std::span<const float>(pascals).first(settling));
  bank.feed(std::span<const float>(pascals).subspan(settling));
  return hearing::raised(bank.take_levels(), kFullScalePowerDb);
}

TEST(PipePower, AgreesWithWhatIsRenderedWithinHalfADecibel) {
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok()) << to_string(recipes.error());
  Renderer renderer(ranks_file());
  ASSERT_TRUE(renderer.loaded());
  const int stride = std::getenv("LOFTBEAT_QUICK") != nullptr ? 53 : 5;
  double worst = 0;
  int compared = 0;
  for (const Rank& rank : recipes->ranks) {
    const double seconds = kSettling + seconds_for(rank);
    for (int key = 36 + rank.program % 3; key <= 96; key += stride) {
      const auto told = pipe_power(rank, key);
      const auto heard = analysed(renderer.render(rank.program, key, 0.7, seconds));
      const double strongest = *std::max_element(told.begin(), told.end());
      for (std::size_t band = 0; band < told.size(); ++band) {
        if (told[band] < strongest + kWeakBandDb) continue;
        const double off = heard[band] - told[band];
        EXPECT_LE(std::abs(off), 0.5) << rank.id << " key " << key << " band "
                                      << hearing::kNominalHz[band] << " Hz, told " << told[band];
        worst = std::max(worst, std::abs(off));
        ++compared;
      }
    }
  }
  std::printf("%d third octaves, the worst %.2f dB off\n", compared, worst);
  EXPECT_GT(compared, 400);
}

}  // namespace
}  // namespace loftbeat::pipes
