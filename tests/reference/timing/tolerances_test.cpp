// The default tolerances of a plan lie where the timing literature puts them. Each figure is
// written out here from its source, apart from the constants of the code.

#include "timing/tolerances.h"

#include <gtest/gtest.h>

#include "plan/plan.h"

namespace loftbeat::timing {
namespace {

const plan::Tolerances kDefaults;

// Source: Friberg & Sundberg 1995, J. Acoust. Soc. Am. 98:2524 (abstract): a displaced tone is
// noticed from 6 ms on below intervals of about 240 ms, from 2.5 % above.
TEST(Literature, NoticeableShiftFollowsItsTwoBranches) {
  EXPECT_DOUBLE_EQ(shift_noticed_ms(1000), 25);
  EXPECT_DOUBLE_EQ(shift_noticed_ms(600), 15);
  EXPECT_DOUBLE_EQ(shift_noticed_ms(500), 12.5);
  EXPECT_NEAR(shift_noticed_ms(250), 6.25, 1e-12);
  EXPECT_DOUBLE_EQ(shift_noticed_ms(100), 6);
}

// Source: order of two onsets is certain above 60 ms (experiment page of a performance-analysis
// project; Hirsh 1959 for 20 ms, from memory). Below it nobody could say that a join was late.
TEST(Defaults, JoinFloorIsWhereTheOrderOfOnsetsIsSure) {
  EXPECT_DOUBLE_EQ(kDefaults.join_ms, 60);
  EXPECT_GE(kDefaults.join_ms, kEnsembleTypicalHighMs);
}

// Source: Friberg & Sundberg 1992 (STL-QPSR 4/1992, abstract) 5 %, 1995 2.5 %: a shift of a span
// is noticed somewhere between; only what is beyond the band is called out of time.
TEST(Defaults, JoinShareIsTheUpperEndOfTheNoticeableBand) {
  EXPECT_DOUBLE_EQ(kDefaults.join_percent, 5);
  EXPECT_GE(kDefaults.join_percent, 2.5);
}

// Source: Drake & Botte 1993, Perception & Psychophysics 54:277 (abstract): tempo differences are
// noticed from 6 % (one interval), 4 (two), 3.2 (four), 3 (six) on, 1.5 at best.
TEST(Defaults, TempoAndTrendAreWhatListenersNotice) {
  EXPECT_LE(kDefaults.tempo_percent, 6.0);
  EXPECT_GE(kDefaults.tempo_percent, 3.0);
  EXPECT_DOUBLE_EQ(kDefaults.trend_percent, 3.0);
  EXPECT_GT(kDefaults.trend_percent, 1.5);
}

// Source: Repp 2005, Psychonomic Bulletin & Review 12:969 (figures from memory): single taps
// spread by 3 to 6 % of the interval, those of trained musicians by 2 to 4 %.
TEST(Defaults, SteadinessAsksNoMoreThanTappingCanGive) {
  EXPECT_GE(kDefaults.steadiness_percent, 4.0);
  EXPECT_LE(kDefaults.steadiness_percent, 6.0);
}

// Source: Rasch 1979, Acustica 43:121 (six values quoted in a thesis): onset differences in trios
// of recorders 30 and 31, reeds 37 and 27, strings 49 and 37 ms.
TEST(Defaults, FeetMayLieAsFarFromTheHandsAsGoodEnsemblesDo) {
  const double trios[] = {30, 31, 37, 27, 49, 37};
  double mean = 0;
  for (double sd : trios) mean += sd / 6;
  EXPECT_NEAR(mean, 35.17, 0.01);
  EXPECT_GT(kDefaults.pedal_lag_ms, mean);
  EXPECT_LE(kDefaults.pedal_lag_ms, 49);
  EXPECT_GE(kDefaults.smear_ms, 49);
}

// A hesitation is plain where it exceeds the shift that is noticed many times over, and it stays
// below the longest breath (half a beat: common practice, no source).
TEST(Defaults, HesitationLiesBetweenNoticeableAndABreath) {
  EXPECT_GE(kDefaults.hesitation_beats, 5 * 5.0 / 100);
  EXPECT_LT(kDefaults.hesitation_beats, kLongestBreathBeats);
}

}  // namespace
}  // namespace loftbeat::timing
