// Source: DIN 45692:2009 Tables A.2 and A.3, 41 test sounds with their target sharpness; tolerance
// 5 % or 0.05 acum, whichever is larger (clause 6, as an open implementation cites it).

#include <gtest/gtest.h>

#include <algorithm>

#include "csv_table.h"
#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

void expect_targets(const std::string& file, std::size_t count) {
  const auto table = CsvTable::read(file);
  ASSERT_EQ(table.rows(), count);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto numbers = table.numbers(row, "L_25Hz_dB", kBandCount);
    BandLevels levels;
    std::copy(numbers.begin(), numbers.end(), levels.begin());
    const Loudness heard = loudness(levels, SoundField::free);
    const double target = table.number(row, "target_acum");
    EXPECT_NEAR(*sharpness_acum(heard), target, std::max(0.05, 0.05 * target)) << file << row;
    // The test sounds are defined to be 4 sone loud.
    EXPECT_NEAR(heard.sone, 4.0, 0.005) << file << row;
    // A change detector: what an independent computation gives for these levels.
    EXPECT_NEAR(*sharpness_acum(heard), table.number(row, "S_check_acum_div_N"), 0.0015)
        << file << row;
  }
}

TEST(Sharpness, NarrowBandNoises) {
  expect_targets("tests/reference/hearing/sharpness_narrowband.csv", 21);
}

TEST(Sharpness, BroadBandNoises) {
  expect_targets("tests/reference/hearing/sharpness_broadband.csv", 20);
}

TEST(Sharpness, WeightAlongTheBarkScale) {
  const auto table = CsvTable::read("tests/reference/hearing/sharpness_weight.csv");
  ASSERT_EQ(table.rows(), Loudness::kSteps);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    EXPECT_NEAR(sharpness_weight(table.number(row, "z_Bark")), table.number(row, "g_DIN45692"),
                6e-6);
  }
}

}  // namespace
}  // namespace loftbeat::hearing
