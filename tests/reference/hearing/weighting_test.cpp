// Source: IEC 61672-1, table of the frequency weighting A; IEC 61260-1, mid-bands and edges
// (a_weighting.csv). ITU-R BS.1770: a full-scale sine of 997 Hz in one channel reads -3.01 LKFS.
// libebur128 (Debian) is the independent judge of K-weighted levels.

#include <ebur128.h>
#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <numbers>

#include "csv_table.h"
#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

TEST(Weighting, TableOfTheStandard) {
  const auto table = CsvTable::read("tests/reference/hearing/a_weighting.csv");
  ASSERT_EQ(table.rows(), 34U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const double a = a_weighting_db(table.number(row, "exact_base10_Hz"));
    // The table is rounded to 0.1 dB: half a step, and 0.001 for 160 Hz (-13.3496 against -13.4).
    EXPECT_NEAR(a, table.number(row, "A_table_dB"), 0.051) << table.text(row, "nominal_Hz");
    EXPECT_NEAR(a, table.number(row, "A_formula_dB"), 0.001);
  }
}

TEST(Bands, MidBandsAndEdgesOfTheStandard) {
  const auto table = CsvTable::read("tests/reference/hearing/a_weighting.csv");
  for (std::size_t band = 0; band < kBandCount; ++band) {
    const std::size_t row = band + 4;  // the table begins at 10 Hz
    EXPECT_DOUBLE_EQ(kNominalHz[band], table.number(row, "nominal_Hz"));
    EXPECT_NEAR(mid_hz(band), table.number(row, "exact_base10_Hz"), 6e-5);
    EXPECT_NEAR(lower_edge_hz(band), table.number(row, "third_octave_lower_edge_Hz"), 6e-5);
    EXPECT_NEAR(upper_edge_hz(band), table.number(row, "third_octave_upper_edge_Hz"), 6e-5);
  }
}

TEST(KWeighting, FullScaleSineOfTheRecommendation) {
  const Partial sine[] = {{997, 10 * std::log10(0.5)}};
  EXPECT_NEAR(k_weighted_level(sine), -3.01, 0.005);
}

double ebur128_loudness(const std::vector<Partial>& partials) {
  constexpr std::size_t kFrames = 5 * 48000;
  std::vector<double> samples(kFrames);
  for (std::size_t i = 0; i < kFrames; ++i) {
    for (const Partial& p : partials) {
      const double amplitude = std::sqrt(2 * power_from_level(p.level_db));
      samples[i] += amplitude *
                    std::sin(2 * std::numbers::pi * p.hz * static_cast<double>(i) / kSampleRateHz);
    }
  }
  ebur128_state* state = ebur128_init(1, 48000, EBUR128_MODE_I);
  double level = 0;
  EXPECT_EQ(ebur128_add_frames_double(state, samples.data(), kFrames), EBUR128_SUCCESS);
  EXPECT_EQ(ebur128_loudness_global(state, &level), EBUR128_SUCCESS);
  ebur128_destroy(&state);
  return level;
}

TEST(KWeighting, AgreesWithLibebur128) {
  const std::vector<std::vector<Partial>> sounds = {
      {{40, -20}},
      {{100, -20}},
      {{1000, -23}},
      {{3000, -23}},
      {{10000, -30}},
      {{65.4, -26}, {130.8, -30}, {196.2, -35}, {523.3, -28}, {2093, -40}, {8372, -50}},
  };
  for (const auto& partials : sounds) {
    EXPECT_NEAR(k_weighted_level(partials), ebur128_loudness(partials), 0.02)
        << partials.front().hz;
  }
}

}  // namespace
}  // namespace loftbeat::hearing
