#include <gtest/gtest.h>

#include <cmath>

#include "parish.h"

namespace loftbeat::advise {
namespace {

PlanMeasures measured(const std::vector<PlayedPass>& passes, int people = 120) {
  const Parish& all = parish();
  return measure_plan({&all.organ, &all.church, &all.powers, people, "Evening"}, passes);
}

PlayedPass pass_with(const std::vector<std::string>& stops) {
  return {"1", parish().drawn(stops), held(0, 8), 62, 74};
}

TEST(PlanMeasures, ThePartsMakeTheWhole) {
  const PlanMeasures measures =
      measured({pass_with({"Great Open Diapason 8", "Great Principal 4", "Great Fifteenth 2"})});
  ASSERT_EQ(measures.passes.size(), 1U);
  const PassMeasure& pass = measures.passes.front();
  EXPECT_TRUE(pass.silent_because.empty());
  double empty = 0;
  double over = 0;
  for (const room::OctaveEffect& octave : pass.effect.octaves) {
    empty += octave.empty_sone;
    over += octave.over_singing_sone;
    EXPECT_NEAR(
        octave.empty_sone - octave.lost_by_absorption_sone() - octave.lost_by_masking_sone(),
        octave.over_singing_sone, 1e-9);
  }
  EXPECT_NEAR(empty, pass.empty.sone, 1e-9);
  EXPECT_NEAR(over, pass.full.over.total_sone - pass.full.over.singing_sone, 1e-9);
  EXPECT_NEAR(pass.effect.full_sone, pass.full.sone, 1e-9);
  // Everything over the singing is support, lead, or below the tune.
  EXPECT_LE(pass.full.over.lead_sone + pass.full.over.support_sone, over + 1e-9);
  EXPECT_LE(pass.full.over.exposure_sone, pass.full.over.lead_sone + 1e-9);
}

TEST(PlanMeasures, EyringIsNeverLongerThanSabineAndPeopleShortenBoth) {
  const PlanMeasures measures = measured({pass_with({"Great Open Diapason 8"})});
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) {
    EXPECT_LE(measures.empty_eyring_s[i], measures.empty_s[i]);
    EXPECT_LE(measures.full_eyring_s[i], measures.full_s[i]);
    EXPECT_LT(measures.full_s[i], measures.empty_s[i]);
    EXPECT_LT(measures.full_eyring_s[i], measures.empty_eyring_s[i]);
    EXPECT_GT(measures.full_eyring_s[i], 0.5 * measures.full_s[i]);
  }
}

TEST(PlanMeasures, TheHeadCountOfThePeopleIsTheFullChurch) {
  const PlanMeasures measures = measured({pass_with({"Great Open Diapason 8"})}, 100);
  const PassMeasure& pass = measures.passes.front();
  ASSERT_EQ(pass.heads.size(), kPeopleCounts.size());
  for (const HeadCount& count : pass.heads) {
    EXPECT_GE(count.extrapolated_share, 0);
    EXPECT_LE(count.extrapolated_share, 1);
    if (count.people != 100) continue;
    EXPECT_NEAR(count.with_people.lead_sone, pass.full.over.lead_sone, 1e-12);
    EXPECT_NEAR(count.with_people.support_sone, pass.full.over.support_sone, 1e-12);
  }
  for (std::size_t i = 1; i < pass.heads.size(); ++i) {
    EXPECT_LT(pass.heads[i].church_as_empty.lead_sone, pass.heads[i - 1].church_as_empty.lead_sone)
        << "more singers cover more";
  }
}

TEST(PlanMeasures, UpperWorkIsWhatIsLeftWhenItGoes) {
  const PlanMeasures measures = measured({pass_with({"Great Open Diapason 8", "Great Mixture III"}),
                                          pass_with({"Great Open Diapason 8"})});
  const PassMeasure& with = measures.passes[0];
  const PassMeasure& without = measures.passes[1];
  ASSERT_TRUE(with.upper.value.has_value());
  EXPECT_FALSE(without.upper.value.has_value());
  EXPECT_NEAR(with.upper->lead_without_sone, without.full.over.lead_sone, 1e-9);
  EXPECT_NEAR(with.upper->lead_with_sone, with.full.over.lead_sone, 1e-12);
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) {
    EXPECT_NEAR(
        with.upper->gives_sone[i],
        with.effect.octaves[i].over_singing_sone - without.effect.octaves[i].over_singing_sone,
        1e-9);
  }
}

TEST(PlanMeasures, SilenceHasItsReason) {
  PlayedPass sung_alone = pass_with({"Great Open Diapason 8"});
  sung_alone.keys.clear();
  PlayedPass elsewhere = pass_with({"Swell Oboe 8"});  // the keys are on the Great
  const PlanMeasures measures = measured({sung_alone, pass_with({}), elsewhere});
  for (const PassMeasure& pass : measures.passes) {
    EXPECT_FALSE(pass.silent_because.empty());
    EXPECT_TRUE(pass.heads.empty());
  }
}

TEST(PlanMeasures, AnOrganTenDecibelsBolderIsTenDecibelsLouder) {
  Parish bold = parish();
  bold.organ.power_db += 10;
  const pipes::RankPowers ranks(bold.recipes);
  const auto powers = StopPowers::make(bold.organ, bold.recipes, ranks);
  ASSERT_TRUE(powers.ok());
  const auto pass = pass_with({"Great Open Diapason 8"});
  const PlanMeasures louder = measure_plan({&bold.organ, &bold.church, &*powers, 120, ""}, {pass});
  EXPECT_NEAR(louder.passes[0].empty.level_db - measured({pass}).passes[0].empty.level_db, 10,
              1e-9);
}

}  // namespace
}  // namespace loftbeat::advise
