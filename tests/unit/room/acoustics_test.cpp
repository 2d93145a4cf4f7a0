#include "room/acoustics.h"

#include <gtest/gtest.h>

#include <cmath>

#include "church_fixture.h"

namespace loftbeat::room {
namespace {

TEST(Interpolation, MeetsTheTableAtTheOctavesAndStaysOutside) {
  const OctaveTable table = {0.1, 0.4, 0.5, 0.6, 0.7, 0.8, kNotGiven};
  for (std::size_t k = 0; k < 6; ++k) {
    EXPECT_NEAR(absorption_at(table, hearing::mid_hz(7 + 3 * k)), table[k], 1e-12);
  }
  EXPECT_NEAR(absorption_at(table, hearing::mid_hz(8)), 0.2, 1e-12);
  EXPECT_EQ(absorption_at(table, 20), 0.1);
  EXPECT_EQ(absorption_at(table, 12500), 0.8);
  EXPECT_FALSE(published_at(table, hearing::mid_hz(5)));  // 80 Hz
  EXPECT_TRUE(published_at(table, hearing::mid_hz(6)));
  EXPECT_TRUE(published_at(table, hearing::mid_hz(23)));  // 5 kHz
  EXPECT_FALSE(published_at(table, hearing::mid_hz(24)));
}

TEST(Acoustics, EyringIsNeverLongerThanSabine) {
  const Church church = village_church();
  for (const int people : {0, 12, 300, 3000}) {
    const Acoustics state = acoustics(church, people);
    for (std::size_t i = 0; i < kBandCount; ++i) {
      EXPECT_LE(state.eyring_s[i], state.sabine_s[i]);
      EXPECT_GT(state.eyring_s[i], 0);
    }
  }
}

TEST(Acoustics, EveryHeadAddsItsOwn) {
  const Church church = village_church();
  const Acoustics empty = acoustics(church, 0);
  const Acoustics some = acoustics(church, 100);
  const Acoustics twice = acoustics(church, 200);
  const OctaveTable standing = find_material("person-standing")->absorption;
  for (std::size_t i = 0; i < kBandCount; ++i) {
    EXPECT_EQ(empty.people_m2[i], 0);
    EXPECT_NEAR(some.people_m2[i], 100 * absorption_at(standing, hearing::mid_hz(i)), 1e-9);
    EXPECT_NEAR(twice.people_m2[i], 2 * some.people_m2[i], 1e-9);
    EXPECT_EQ(empty.surfaces_m2[i], some.surfaces_m2[i]);
    EXPECT_NEAR(some.area_m2[i], some.surfaces_m2[i] + some.people_m2[i] + some.air_m2[i], 1e-9);
  }
}

TEST(Acoustics, ByAreaTheSeatsFillUpAndNoMore) {
  Church church = village_church();
  church.people_count = PeopleCount::by_area;
  const std::size_t band = band_of_octave(3);
  EXPECT_NEAR(acoustics(church, 150).people_m2[band], 0.5 * 200 * (0.75 - 0.08), 1e-9);
  EXPECT_EQ(acoustics(church, 300).people_m2, acoustics(church, 900).people_m2);
}

TEST(Acoustics, SaysWhichBandsAreExtrapolated) {
  const Acoustics state = acoustics(village_church(), 0);
  EXPECT_TRUE(state.extrapolated[5]);
  EXPECT_FALSE(state.extrapolated[6]);
  EXPECT_FALSE(state.extrapolated[23]);
  EXPECT_TRUE(state.extrapolated[24]);
}

TEST(Acoustics, DampAirRingsLongerInTheTreble) {
  Church church = village_church();
  const double dry = acoustics(church, 0).sabine_s[25];
  church.air.humidity_percent = 80;
  EXPECT_GT(acoustics(church, 0).sabine_s[25], dry);
}

}  // namespace
}  // namespace loftbeat::room
