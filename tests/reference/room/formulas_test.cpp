// Source: three worked problems from university exercise sheets on room acoustics (a lecture hall,
// a hall, a hall in feet), with their printed answers; and the equivalences that textbooks state
// between the forms of the level formula.

#include <gtest/gtest.h>

#include <cmath>

#include "room/formulas.h"

namespace loftbeat::room {
namespace {

double printed(double value, int digits) {
  const double scale = std::pow(10.0, digits);
  return std::round(value * scale) / scale;
}

// 15 x 8 x 3 m, mean coefficient 0.30. The sheet uses 0.162 for the constant.
TEST(HandbookRooms, LectureHall) {
  const double constant = 0.162 / kSabineConstant;
  EXPECT_DOUBLE_EQ(printed(sabine_s(360 * constant, 0.30 * 378), 2), 0.51);
  EXPECT_DOUBLE_EQ(printed(eyring_s({360 * constant, 378, 0.30, 0}), 2), 0.43);
}

// 20 x 8 x 4 m: floor 0.02, ceiling 0.05, walls 0.05.
TEST(HandbookRooms, Hall) {
  const double area = 0.02 * 160 + 0.05 * 160 + 0.05 * 224;
  EXPECT_NEAR(area, 22.4, 1e-12);
  EXPECT_DOUBLE_EQ(printed(sabine_s(640, area), 1), 4.6);
}

// 40 x 30 x 20 ft, 5200 ft2, 0.15; the sheet's constant is 0.05 s/ft, ours 0.161 s/m.
TEST(HandbookRooms, HallInFeet) {
  constexpr double kFoot = 0.3048;
  const double volume = 24000 * kFoot * kFoot * kFoot;
  const double surface = 5200 * kFoot * kFoot;
  const double constant = 0.05 / kFoot / kSabineConstant;
  EXPECT_DOUBLE_EQ(printed(sabine_s(volume * constant, 0.15 * surface), 2), 1.54);
}

TEST(LevelFormula, FormsOfTheTextbookAgree) {
  for (const double area : {20.0, 58.9, 400.0}) {
    const double volume = 3600;
    const double time = sabine_s(volume, area);
    // Lw + 10 lg(T / V) + 14 dB; Lw + 6 - 10 lg A. 14 and 6 are rounded in the book.
    EXPECT_NEAR(diffuse_minus_power_db(area), 10 * std::log10(time / volume) + 14, 0.06);
    EXPECT_NEAR(diffuse_minus_power_db(area), 6 - 10 * std::log10(area), 0.03);
    // 0.057 sqrt(Q V / T).
    EXPECT_NEAR(critical_distance_m(2, area), 0.057 * std::sqrt(2 * volume / time),
                0.01 * critical_distance_m(2, area));
  }
}

TEST(LevelFormula, DirectAndDiffuseMeetAtTheCriticalDistance) {
  const double r = critical_distance_m(1.5, 80);
  EXPECT_NEAR(direct_minus_power_db(r, 1.5), diffuse_minus_power_db(80), 1e-9);
  EXPECT_NEAR(level_minus_power_db(r, 1.5, 80), diffuse_minus_power_db(80) + 3.0103, 1e-4);
}

}  // namespace
}  // namespace loftbeat::room
