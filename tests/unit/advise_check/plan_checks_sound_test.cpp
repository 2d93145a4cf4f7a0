#include "advise/plan_check.h"
#include "small_plan.h"

namespace loftbeat::advise {
namespace {

TEST(PlanCheckSound, AChangeThatNobodyHearsIsFound) {
  SmallPlan small;
  small.sound_as_drawn();
  Heard& before = small.heard[1].heard;
  Heard& after = small.heard[2].heard;
  after = before;
  after.sone *= 1.05;
  *after.sharpness_acum += 0.04;
  small.heard[3].heard = after;
  const PlanCheck check = small.check();
  ASSERT_EQ(faults_of(check.findings), (Faults{PlanFault::unheard_change}));
  EXPECT_EQ(check.findings[0].join, 1);
  EXPECT_LT(check.findings[0].figure, 1);
  // Each of the three alone makes it heard.
  for (int which = 0; which < 3; ++which) {
    after = before;
    if (which == 0) after.sone *= 1.2;
    if (which == 1) *after.sharpness_acum += 0.15;
    if (which == 2) after.over.lead_sone *= 1.2;
    small.heard[3].heard = after;
    EXPECT_EQ(faults_of(small.check().findings), Faults{}) << which;
  }
}

TEST(PlanCheckSound, AnotherTextureIsHeardAnyway) {
  SmallPlan small;
  small.sound_as_drawn();
  small.heard[2].heard = small.heard[3].heard = small.heard[1].heard;
  small.plan.verse_plans[2].textures = {plan::Texture::unison};
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheckSound, ATimidPlayOverIsFound) {
  SmallPlan small;
  small.sound_as_drawn();
  small.heard[0].heard.sone = 0.5 * small.heard[1].heard.sone;
  EXPECT_EQ(faults_of(small.check().findings), (Faults{PlanFault::weak_play_over}));
  small.heard[0].heard.sone = 0.8 * small.heard[1].heard.sone;
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
  small.heard[0].heard.sharpness_acum = *small.heard[1].heard.sharpness_acum - 0.5;
  EXPECT_EQ(faults_of(small.check().findings), (Faults{PlanFault::dull_play_over}));
}

TEST(PlanCheckSound, TooBrightForFewAndTooLittleForMany) {
  SmallPlan small;
  small.sound_as_drawn();
  small.heard[2].heard.over.exposure_sone = 20;
  small.people = 12;
  const PlanCheck few = small.check();
  ASSERT_EQ(faults_of(few.findings), (Faults{PlanFault::bright_for_few}));
  EXPECT_EQ(few.findings[0].pass, 2);
  ASSERT_EQ(few.findings[0].controls.size(), 1u);
  EXPECT_EQ(few.findings[0].controls[0].index, 3u);  // the Fifteenth
  small.people = 200;
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
  small.heard[1].heard.over.lead_sone = 1;
  EXPECT_EQ(faults_of(small.check().findings), (Faults{PlanFault::little_lead_for_many}));
}

TEST(PlanCheckSound, TwoAtTwoFootAreANoteThroughTheCouplerToo) {
  SmallPlan small;
  for (organ::Registration& one : small.drawn) one = drawn(small.organ, {0, 2, 3, 6, 7});
  EXPECT_TRUE(small.check().findings.empty());
  for (organ::Registration& one : small.drawn) one.couplers = {0};
  const PlanCheck check = small.check();
  EXPECT_EQ(check.findings.size(), 4u);
  EXPECT_EQ(check.findings[0].fault, PlanFault::doubled_upper_pitch);
  EXPECT_EQ(faults_of(check.findings), Faults{});
}

TEST(PlanCheckSound, TheSwellPedalAloneIsNoFinding) {
  SmallPlan small;
  for (organ::Registration& one : small.drawn) one = drawn(small.organ, {0, 2, 7});
  small.drawn[2].swell[1] = 0.2;
  small.sound_as_drawn();
  const PlanCheck check = small.check();
  EXPECT_TRUE(check.findings.empty());
  EXPECT_EQ(check.joins[1].work.swells.size(), 1u);
}

}  // namespace
}  // namespace loftbeat::advise
