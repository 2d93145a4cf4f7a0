#include "advise/motion_times.h"

#include <gtest/gtest.h>

namespace loftbeat::advise {
namespace {

// Source: MTM-1 data card, inch edition, its figures brought to whole centimetres by straight
// lines and rounded to a tenth; the metric edition has the same within 0.1 TMU (from memory).
struct CardRow {
  double cm;
  double reach_a, reach_b, reach_cd, reach_e;
  double move_a, move_b, move_c;
  double reach_a_s, reach_b_s;
};
constexpr CardRow kCard[] = {
    {20, 7.8, 10.0, 11.4, 9.2, 9.6, 10.5, 11.7, 0.282, 0.360},
    {25, 8.6, 11.4, 12.8, 10.4, 11.2, 12.1, 13.4, 0.311, 0.410},
    {30, 9.5, 12.8, 14.1, 11.7, 12.7, 13.3, 15.0, 0.343, 0.460},
    {35, 10.4, 14.2, 15.4, 12.9, 14.2, 14.5, 16.7, 0.374, 0.512},
    {40, 11.3, 15.6, 16.8, 14.0, 15.8, 15.6, 18.5, 0.406, 0.562},
    {45, 12.2, 17.0, 18.2, 15.3, 17.4, 16.8, 20.2, 0.438, 0.612},
    {50, 13.0, 18.4, 19.6, 16.5, 18.9, 18.0, 21.8, 0.467, 0.662},
    {55, 13.8, 19.8, 21.0, 17.8, 20.5, 19.2, 23.5, 0.498, 0.714},
    {60, 14.7, 21.2, 22.3, 19.0, 22.1, 20.4, 25.2, 0.530, 0.764},
};

TEST(MotionTimes, AreThoseOfThePublishedCard) {
  constexpr double kRounding = 0.0501;         // the rows above are rounded to a tenth of a TMU
  constexpr double kSecondsRounding = 0.0021;  // and their seconds follow the rounded figure
  for (const CardRow& row : kCard) {
    EXPECT_NEAR(reach_tmu(Reach::fixed, row.cm), row.reach_a, kRounding) << row.cm;
    EXPECT_NEAR(reach_tmu(Reach::varying, row.cm), row.reach_b, kRounding) << row.cm;
    EXPECT_NEAR(reach_tmu(Reach::chosen, row.cm), row.reach_cd, kRounding) << row.cm;
    EXPECT_NEAR(reach_tmu(Reach::back, row.cm), row.reach_e, kRounding) << row.cm;
    EXPECT_NEAR(carry_tmu(Carry::to_a_stop, row.cm), row.move_a, kRounding) << row.cm;
    EXPECT_NEAR(carry_tmu(Carry::nearby, row.cm), row.move_b, kRounding) << row.cm;
    EXPECT_NEAR(carry_tmu(Carry::exactly, row.cm), row.move_c, kRounding) << row.cm;
    EXPECT_NEAR(seconds_from_tmu(reach_tmu(Reach::fixed, row.cm)), row.reach_a_s, kSecondsRounding);
    EXPECT_NEAR(seconds_from_tmu(reach_tmu(Reach::varying, row.cm)), row.reach_b_s,
                kSecondsRounding);
  }
}

// Source: reckoned by hand from the same card: reach B 40 cm 15.6, touch 0, a pull of 5 cm (2
// inches) case A 3.6, reach E back 14.0: 33.2 TMU; a press under the hand: reach A 10 cm 6.1,
// touch.
TEST(MotionTimes, OneStopAndAThumbPistonAsReckonedByHand) {
  const double stop = reach_tmu(Reach::varying, 40) + kTouchTmu + carry_tmu(Carry::to_a_stop, 5) +
                      reach_tmu(Reach::back, 40);
  EXPECT_NEAR(stop, 33.2, 0.2);  // four figures, each rounded to a tenth
  EXPECT_NEAR(seconds_from_tmu(stop), 1.20, 0.005);
  EXPECT_NEAR(seconds_from_tmu(reach_tmu(Reach::fixed, 10) + kTouchTmu), 0.22, 0.005);
}

// Source: MTM-1 data card, legs and feet: 7.1 to 15 cm, 0.5 for each cm more; foot 8.5, 19.1 with
// pressure. Unit: 1/100000 hour.
TEST(MotionTimes, FeetAndUnitAreThoseOfTheCard) {
  EXPECT_DOUBLE_EQ(leg_tmu(15), 7.1);
  EXPECT_DOUBLE_EQ(leg_tmu(20), 9.6);
  EXPECT_DOUBLE_EQ(kFootTmu, 8.5);
  EXPECT_DOUBLE_EQ(kFootPressTmu, 19.1);
  EXPECT_DOUBLE_EQ(kSecondsPerTmu * 100'000, 3600);
}

// Source: from memory: 15.2 T / D, at most 20.
TEST(MotionTimes, TheEyeTakesAtMostTwentyUnits) {
  EXPECT_NEAR(eye_travel_tmu(50, 60), 12.667, 0.001);
  EXPECT_DOUBLE_EQ(eye_travel_tmu(500, 60), 20);
  EXPECT_DOUBLE_EQ(eye_travel_tmu(0, 60), 0);
}

TEST(MotionTimes, NeverFallWithDistance) {
  for (const Reach kind : {Reach::fixed, Reach::varying, Reach::chosen, Reach::back}) {
    for (double cm = 0; cm < 150; cm += 0.5) {
      EXPECT_LE(reach_tmu(kind, cm), reach_tmu(kind, cm + 0.5)) << cm;
    }
  }
  for (const Carry kind : {Carry::to_a_stop, Carry::nearby, Carry::exactly}) {
    for (double cm = 0; cm < 150; cm += 0.5) {
      EXPECT_LE(carry_tmu(kind, cm), carry_tmu(kind, cm + 0.5)) << cm;
    }
  }
}

}  // namespace
}  // namespace loftbeat::advise
