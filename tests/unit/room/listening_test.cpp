#include "room/listening.h"

#include <gtest/gtest.h>

#include <cmath>

#include "church_fixture.h"

namespace loftbeat::room {
namespace {

BandLevels flat(double level) {
  BandLevels levels;
  levels.fill(level);
  return levels;
}

TEST(Singing, DoublingThePeopleAddsThreeDecibels) {
  for (const int people : {6, 25, 150}) {
    const BandLevels some = singing_power(Effort::raised, people);
    const BandLevels twice = singing_power(Effort::raised, 2 * people);
    for (std::size_t i = 0; i < kBandCount; ++i) EXPECT_NEAR(twice[i] - some[i], 3.0103, 1e-4);
  }
  EXPECT_EQ(singing_power(Effort::loud, 0), hearing::silence());
}

TEST(Singing, OneVoiceOnItsAxis) {
  // Lw = Lp + 11 - directivity; back at 1 m on the axis it must be the published level.
  const BandLevels power = singing_power(Effort::raised, 1, 2.5);
  EXPECT_NEAR(power[13] + direct_minus_power_db(1, 1) + 2.5, 60.80, 1e-9);
}

TEST(Singing, GoesOnWithTheOutermostSlope) {
  const BandLevels& voice = voice_at_1_m(Effort::raised);
  EXPECT_NEAR(voice[8] - voice[5], voice[11] - voice[8], 1e-9);
  EXPECT_NEAR(voice[25] - voice[27], 2 * (voice[22] - voice[25]) / 3, 1e-9);
  EXPECT_EQ(extrapolated_voice().count(), 10U);
}

TEST(Listening, LevelChangesAsTheAreasDo) {
  const Church church = village_church("[distance]\norgan-to-people = 200\n");
  const Acoustics empty = acoustics(church, 0);
  const Acoustics full = acoustics(church, 300);
  const BandLevels before = heard_organ(church, empty, Place::people, flat(80));
  const BandLevels after = heard_organ(church, full, Place::people, flat(80));
  for (std::size_t i = 0; i < kBandCount; ++i) {
    // So far away the direct sound is next to nothing.
    EXPECT_NEAR(after[i] - before[i], 10 * std::log10(empty.area_m2[i] / full.area_m2[i]), 0.02);
  }
}

TEST(Listening, CloseToTheOrganTheRoomDoesNotMatter) {
  const Church church = village_church("[distance]\norgan-to-player = 0.5\n");
  const BandLevels before = heard_organ(church, acoustics(church, 0), Place::player, flat(80));
  const BandLevels after = heard_organ(church, acoustics(church, 300), Place::player, flat(80));
  for (std::size_t i = 0; i < kBandCount; ++i) EXPECT_LT(before[i] - after[i], 1.5);
}

TEST(Listening, MoreSingersAreLouderEverywhere) {
  const Church church = village_church();
  const Acoustics state = acoustics(church, 100);
  for (const Place place : {Place::people, Place::player}) {
    EXPECT_EQ(heard_singing(church, state, place, 0), hearing::silence());
    double last = -100;
    for (const int singers : {1, 6, 12, 50, 100, 300}) {
      const double level = hearing::total_level(heard_singing(church, state, place, singers));
      EXPECT_GT(level, last + 1);
      last = level;
    }
  }
}

// Neighbours' direct sound makes singing louder among the people than the diffuse field alone.
TEST(Listening, NeighboursAreHeardDirectly) {
  const Church church = village_church();
  const Acoustics state = acoustics(church, 200);
  const BandLevels heard = heard_singing(church, state, Place::people, 200);
  const BandLevels power = singing_power(church.effort, 200);
  for (std::size_t i = 0; i < kBandCount; ++i) {
    const double diffuse = power[i] + diffuse_minus_power_db(state.area_m2[i]);
    EXPECT_GT(heard[i], diffuse);
    EXPECT_LT(heard[i], diffuse + 4);
  }
}

TEST(PeopleEffect, TellsAbsorptionAndMaskingApart) {
  const Church church = village_church();
  const PeopleEffect effect = people_effect(church, flat(85), {150, 150});
  double empty = 0;
  double full = 0;
  double over = 0;
  for (const OctaveEffect& octave : effect.octaves) {
    EXPECT_LT(octave.absorption_db, 0);
    EXPECT_GE(octave.lost_by_absorption_sone(), 0);
    EXPECT_GE(octave.lost_by_masking_sone(), -1e-9);
    empty += octave.empty_sone;
    full += octave.full_sone;
    over += octave.over_singing_sone;
  }
  EXPECT_NEAR(empty, effect.empty_sone, 1e-9 * empty);
  EXPECT_NEAR(full, effect.full_sone, 1e-9 * full);
  EXPECT_NEAR(over, effect.over_singing_sone, 1e-6 * over);
  EXPECT_GT(effect.extrapolated_share, 0);
  EXPECT_LT(effect.extrapolated_share, 1);
}

TEST(PeopleEffect, NobodyThereTakesNothing) {
  const PeopleEffect effect = people_effect(village_church(), flat(85), {0, 0});
  for (const OctaveEffect& octave : effect.octaves) {
    EXPECT_EQ(octave.absorption_db, 0);
    EXPECT_EQ(octave.lost_by_absorption_sone(), 0);
    EXPECT_EQ(octave.lost_by_masking_sone(), 0);
    EXPECT_EQ(octave.singing_minus_organ_db, hearing::kSilenceDb);
  }
}

TEST(PeopleEffect, MaskingGrowsWithTheSingersAbsorptionWithThePeople) {
  const Church church = village_church();
  const PeopleEffect few = people_effect(church, flat(85), {150, 12});
  const PeopleEffect many = people_effect(church, flat(85), {150, 150});
  EXPECT_EQ(few.full_sone, many.full_sone);
  EXPECT_GT(few.over_singing_sone, many.over_singing_sone);
  EXPECT_GT(people_effect(church, flat(85), {50, 12}).full_sone, few.full_sone);
}

}  // namespace
}  // namespace loftbeat::room
