#include "pipes/power.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "hearing/spectrum.h"
#include "pipes/filter_curves.h"
#include "pipes/interpolation.h"
#include "pipes/pipe_spectrum.h"
#include "recipe_fixture.h"

namespace loftbeat::pipes {
namespace {

TEST(FilterCurves, AgreeWithTheFilters) {
  for (double hz = 21; hz < 20000; hz *= 1.0137) {
    std::array<double, hearing::kBandCount> bands{};
    filter_curves().add(bands, hz, 1);
    for (std::size_t band = 0; band < hearing::kBandCount; ++band) {
      const double exact = hearing::filter_power(band, hz);
      if (exact < 1e-5) continue;
      EXPECT_NEAR(10 * std::log10(bands[band] / exact), 0, 0.01) << hz << " band " << band;
    }
  }
}

// The kernel itself, integrated in small steps.
TEST(CubicPower, IsThatOfTheKernel) {
  const auto kernel = [](double x) {
    return x < 1 ? (1.5 * x - 2.5) * x * x + 1 : ((-0.5 * x + 2.5) * x - 4) * x + 2;
  };
  for (const double cycles : {0.0, 0.005, 0.011, 0.1, 0.25, 0.35, 0.5}) {
    constexpr int kSteps = 4000;
    double sum = 0;
    for (int i = 0; i < kSteps; ++i) {
      const double x = 2 * (i + 0.5) / kSteps;
      sum += 2 * kernel(x) * std::cos(2 * M_PI * cycles * x) * 2 / kSteps;
    }
    EXPECT_NEAR(cubic_power(cycles), sum * sum, 1e-6) << cycles;
  }
}

TEST(RankPowers, ArePipePowersOfEveryKeyAsLinearPower) {
  const auto recipes = parse_recipes(kSmallFile, "small.toml");
  ASSERT_TRUE(recipes.ok());
  const RankPowers powers(*recipes);
  ASSERT_EQ(powers.ranks(), 2U);
  for (std::size_t r = 0; r < 2; ++r) {
    for (int key = kLowestKey; key <= kHighestKey; key += 5) {
      const auto levels = pipe_power(recipes->ranks[r], key);
      for (std::size_t band = 0; band < levels.size(); ++band)
        EXPECT_DOUBLE_EQ(hearing::level_from_power(powers.at(r, key)[band]), levels[band]);
    }
  }
  for (const double power : powers.at(2, 60)) EXPECT_EQ(power, 0);
  for (const double power : powers.at(0, kLowestKey - 1)) EXPECT_EQ(power, 0);
  for (const double power : powers.at(0, kHighestKey + 1)) EXPECT_EQ(power, 0);
  EXPECT_EQ(pipe_power(recipes->ranks[0], 10), hearing::silence());
}

// More power is more in every band alike.
TEST(PipePower, GoesWithTheStatedPower) {
  Rank rank = plain_rank();
  const auto before = pipe_power(rank, 65);
  rank.power_db += 7;
  const auto after = pipe_power(rank, 65);
  for (std::size_t band = 0; band < before.size(); ++band)
    EXPECT_NEAR(after[band] - before[band], 7, 1e-9);
}

// A tone that does not change with pitch, a third of an octave and more up: the bands move along.
TEST(PipePower, IsWhatItsPartialsAddUpTo) {
  Rank rank = plain_rank();
  rank.wind.noise_db = -200;
  rank.scatter = {0, 0};
  const Zone& zone = zone_of(61);
  const SteadySound sound = steady_sound(rank, zone);
  std::vector<hearing::Partial> partials;
  double whole = 0;
  for (const SteadySound::Line& line : sound.lines) {
    partials.push_back({sound.hz(line), hearing::level_from_power(line.power)});
    whole += line.power;
  }
  const double octaves = 1.0 / 12;
  EXPECT_NEAR(hearing::level_from_power(whole), rank.power_db + rank.power_per_octave_db * octaves,
              1e-6);
  const auto exact = hearing::bands_of_partials(partials);
  const auto told = pipe_power(rank, zone.root);
  for (std::size_t band = 0; band < told.size(); ++band) {
    if (exact[band] < 30) continue;  // 60 dB down
    EXPECT_NEAR(told[band], exact[band], 0.01) << band;
  }
}

TEST(PipePower, SingersKeepThePowerOfTheWhole) {
  Rank rank = plain_rank();
  rank.scatter = {0, 0};
  const double one = hearing::total_level(pipe_power(rank, 60));
  rank.ensemble = {8, 12};
  EXPECT_NEAR(hearing::total_level(pipe_power(rank, 60)), one, 0.05);
}

}  // namespace
}  // namespace loftbeat::pipes
