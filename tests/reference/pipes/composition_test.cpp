// Source: rank_pitch.csv and mixture_iv.csv beside this file, which name where their figures come
// from.

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "../hearing/csv_table.h"
#include "pipes/pipes.h"
#include "rendered.h"

namespace loftbeat::pipes {
namespace {

double cents(double ratio) { return 1200 * std::log2(ratio); }

std::string without_prime(std::string text) {
  if (!text.empty() && text.back() == '\'') text.pop_back();
  return text;
}

double fraction(const std::string& text) {
  const std::size_t bar = text.find('/');
  if (bar == std::string::npos) return std::stod(text);
  return std::stod(text.substr(0, bar)) / std::stod(text.substr(bar + 1));
}

TEST(FootPitches, SoundAtTheirHarmonicOfTheEightFootPitch) {
  const CsvTable table = CsvTable::read("tests/reference/pipes/rank_pitch.csv");
  ASSERT_EQ(table.rows(), 19U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const std::string pitch = without_prime(table.text(row, "footage"));
    const double harmonic = fraction(table.text(row, "harmonic_of_8ft"));
    EXPECT_NEAR(8 / feet_from(pitch), harmonic, 1e-12) << pitch;
    if (feet_from(pitch) > 32 || key_hz(49) * harmonic > 8000) continue;
    Rank rank;
    rank.steps = {{0, {feet_from(pitch)}}};
    const double hz = intended_hz(rank, 49).at(0);
    const double tempered = key_hz(49 + table.number(row, "semitones_tempered"));
    EXPECT_NEAR(hz / key_hz(49), harmonic, 1e-9) << pitch;
    EXPECT_NEAR(cents(hz / tempered), table.number(row, "just_minus_tempered_cents"), 0.006)
        << pitch;
  }
}

TEST(MixtureFour, IsComposedAndBreaksAsPublished) {
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok());
  const Rank* mixture = recipes->find("mixture-iv");
  ASSERT_NE(mixture, nullptr);
  const CsvTable table = CsvTable::read("tests/reference/pipes/mixture_iv.csv");
  ASSERT_EQ(table.rows(), 5U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto first = static_cast<int>(table.number(row, "first_midi_note"));
    const auto harmonics = table.numbers(row, "rank1_harmonic", 4);
    for (const int key : {first, first + 11}) {
      const auto pipes = intended_hz(*mixture, key);
      ASSERT_EQ(pipes.size(), 4U);
      for (std::size_t i = 0; i < 4; ++i)
        EXPECT_NEAR(pipes[i] / key_hz(key), harmonics[i], 1e-9) << key << " pipe " << i;
    }
  }
}

}  // namespace
}  // namespace loftbeat::pipes
