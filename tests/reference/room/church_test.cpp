// Source: church_example.csv, a worked church (30 x 12 x 10 m), empty and full, computed outside
// this project from handbook coefficients (absorption.csv) and ISO 9613-1; to its printed digits.

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "../hearing/csv_table.h"
#include "room/room.h"

namespace loftbeat::room {
namespace {

Church example() {
  const auto church = parse_church(R"(
    volume = 3600
    temperature = 20
    humidity = 50
    [[surface]]
    material = "window-glass"
    area = 60
    [[surface]]
    material = "marble-or-tile"
    area = 160
    [[surface]]
    material = "plaster-on-brick"
    area = 1140
    [[pews]]
    area = 200
    seats = 300
    [people]
    expected = 300
    absorb = "by-area"
  )",
                                   "example.church.toml");
  EXPECT_TRUE(church.ok()) << to_string(church.error());
  return *church;
}

class ChurchExample : public testing::Test {
 protected:
  const Church church_ = example();
  const CsvTable table_ = CsvTable::read("tests/reference/room/church_example.csv");
  void compare(const Acoustics& state, const std::string& filling) const;
};

void ChurchExample::compare(const Acoustics& state, const std::string& filling) const {
  ASSERT_EQ(table_.rows(), 6U);
  for (std::size_t row = 0; row < table_.rows(); ++row) {
    const std::size_t band = band_of_octave(row + 1);
    const auto expected = [&](const std::string& name) {
      return table_.number(row, name + filling);
    };
    const double surfaces = state.surfaces_m2[band] + state.people_m2[band];
    EXPECT_NEAR(surfaces, expected("A_surfaces_m2_"), 0.0005);
    EXPECT_NEAR(state.air_m2[band], expected("A_air_m2_"), 0.0005);
    EXPECT_NEAR(sabine_s(church_.volume_m3, surfaces), expected("T_Sabine_no_air_s_"), 0.0005);
    EXPECT_NEAR(state.sabine_s[band], expected("T_Sabine_with_air_s_"), 0.0005);
    EXPECT_NEAR(state.eyring_s[band], expected("T_Eyring_with_air_s_"), 0.0005);
    const double r = room_constant_m2(surfaces, surfaces / state.surface_m2);
    EXPECT_NEAR(r, expected("room_constant_R_m2_"), 0.005);
    EXPECT_NEAR(level_minus_power_db(10, 1, r), expected("Lp_minus_Lw_r10m_Q1_dB_"), 0.005);
    EXPECT_NEAR(diffuse_minus_power_db(state.area_m2[band]),
                expected("Lp_minus_Lw_diffuse_4_over_A_dB_"), 0.005);
  }
}

TEST_F(ChurchExample, Empty) { compare(acoustics(church_, 0), "empty"); }
TEST_F(ChurchExample, Full) { compare(acoustics(church_, 300), "full"); }

// What the people's absorption takes, per octave: most from 500 Hz to 2 kHz, less at 4 kHz, where
// the air has already taken most of it. The trade says that people swallow brightness; by the
// published coefficients they swallow the middle.
TEST_F(ChurchExample, AbsorptionTakesTheMiddleMoreThanTheTop) {
  BandLevels organ;
  organ.fill(80);
  const PeopleEffect effect = people_effect(church_, organ, {300, 300});
  std::map<double, double> lost;
  for (std::size_t row = 0; row < table_.rows(); ++row) {
    const OctaveEffect& octave = effect.octaves[row + 1];
    const double expected = table_.number(row, "Lp_minus_Lw_diffuse_4_over_A_dB_full") -
                            table_.number(row, "Lp_minus_Lw_diffuse_4_over_A_dB_empty");
    EXPECT_NEAR(octave.absorption_db, expected, 0.0101) << octave.nominal_hz;
    lost[octave.nominal_hz] = -octave.absorption_db;
  }
  EXPECT_NEAR(lost[500], 5.1, 0.05);
  EXPECT_NEAR(lost[4000], 2.8, 0.06);
  EXPECT_NEAR(lost[125], 4.1, 0.05);
  for (const double middle : {500.0, 1000.0, 2000.0}) EXPECT_GT(lost[middle], lost[4000] + 1);
}

}  // namespace
}  // namespace loftbeat::room
