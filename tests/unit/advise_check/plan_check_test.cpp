#include "advise/plan_check.h"

#include "small_plan.h"

namespace loftbeat::advise {
namespace {

TEST(PlanCheck, ACleanPlanHasNoFinding) {
  SmallPlan small;
  small.sound_as_drawn();
  const PlanCheck check = small.check();
  EXPECT_TRUE(check.findings.empty()) << sentence(small.context(), check.findings.front());
  ASSERT_EQ(check.joins.size(), 3u);
  EXPECT_TRUE(check.joins[0].work.movements.empty());
  EXPECT_EQ(*check.joins[0].needed_s, 0);
  EXPECT_EQ(check.joins[1].work.movements.size(), 1u);
}

TEST(PlanCheck, TwoSidesAreFound) {
  SmallPlan small;
  small.drawn[2] = drawn(small.organ, {0, 2, 3, 5, 7});
  small.drawn[3] = small.drawn[2];
  const PlanCheck check = small.check();
  EXPECT_EQ(faults_of(check.findings), (Faults{PlanFault::both_sides}));
  EXPECT_EQ(check.findings[0].join, 1);
  // The Swell is silent before: it can be made ready.
  EXPECT_EQ(check.findings[0].mend, Mend::prepare);
  small.plan.verse_plans[2].moves_at = plan::MovesAt{plan::MovesAtKind::silent, 0};
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheck, DrawAndPushIsFound) {
  SmallPlan small;
  small.drawn[2] = small.drawn[3] = drawn(small.organ, {1, 2, 7});
  const PlanCheck check = small.check();
  EXPECT_EQ(faults_of(check.findings), (Faults{PlanFault::draw_and_push}));
  EXPECT_EQ(check.findings[0].mend, Mend::leave_out);
  EXPECT_EQ(check.findings[0].controls.size(), 1u);
}

TEST(PlanCheck, SeveralMovementsAreFoundOnce) {
  SmallPlan small;
  small.drawn[2] = small.drawn[3] = drawn(small.organ, {1, 2, 4, 7}, {0});
  const PlanCheck check = small.check();
  EXPECT_EQ(faults_of(check.findings), (Faults{PlanFault::several_movements}));
  EXPECT_GE(check.findings[0].figure, 3);
  EXPECT_TRUE(find(check.findings, PlanFault::texture_for_free) != nullptr);
}

TEST(PlanCheck, AHelperHasTwoHands) {
  SmallPlan small;
  small.drawn[2] = small.drawn[3] = drawn(small.organ, {1, 2, 4, 7}, {0});
  small.plan.helper = true;
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheck, TooShortASilenceIsFoundAndTheMendSuffices) {
  SmallPlan small;
  small.plan.join = plan::Join{plan::JoinKind::hold_and_lift, 4, 0.5, 0};
  const PlanCheck check = small.check();
  ASSERT_EQ(faults_of(check.findings), (Faults{PlanFault::not_enough_time}));
  EXPECT_EQ(check.findings[0].join, 1);
  EXPECT_GT(check.findings[0].figure, check.findings[0].limit);
  ASSERT_EQ(check.findings[0].mend, Mend::longer_lift);
  small.plan.join->lift_beats += check.findings[0].by;
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheck, ASlowPlayerNeedsMore) {
  SmallPlan small;
  CheckContext context = small.context();
  const JoinCheck usual = check_join(context, 1, small.drawn[1], small.drawn[2]);
  EXPECT_EQ(faults_of(usual.findings), Faults{});
  context.player.at(organ::Side::right, Handling::draw) = {3, 100};
  const JoinCheck slow = check_join(context, 1, small.drawn[1], small.drawn[2]);
  EXPECT_EQ(faults_of(slow.findings), (Faults{PlanFault::not_enough_time}));
  EXPECT_NEAR(*slow.work.needed_s / *usual.work.needed_s, used_factor({3, 100}), 1e-9);
}

TEST(PlanCheck, NoFreeHandIsFoundWhereAFreeOneWouldDo) {
  SmallPlan small;
  small.score = chorale({}, {83, 67, 59, 43});  // the hands span two octaves
  small.plan.join = plan::Join{plan::JoinKind::hold_and_lift, 5, 1.5, 0};
  const PlanCheck check = small.check();
  ASSERT_EQ(faults_of(check.findings), (Faults{PlanFault::no_free_hand}));
  EXPECT_EQ(check.findings[0].figure, 24);
  // A thumb piston needs no hand.
  organ::Piston piston;
  piston.name = "Great 1";
  piston.division = 0;
  piston.stops = {0, 2, 3};
  small.organ.pistons = {piston};
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheck, NoJoinOrNoTempoIsSaidAndNoFault) {
  SmallPlan small;
  small.plan.join.reset();
  const PlanCheck check = small.check();
  EXPECT_EQ(faults_of(check.findings), Faults{});
  const PlanFinding* note = find(check.findings, PlanFault::time_unknown);
  ASSERT_TRUE(note != nullptr);
  EXPECT_EQ(note->reason, "no join is planned");
}

TEST(PlanCheck, BesideAVerseSungAloneThereIsTime) {
  SmallPlan small;
  small.plan.verse_plans[2].unaccompanied = true;
  small.drawn[3] = drawn(small.organ, {1, 4, 5}, {0});
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheck, ALineTooLongForOneBreathIsFoundOnce) {
  SmallPlan small;
  small.plan.tempo_bpm = 40;  // eight crotchets in 12 s
  const PlanCheck check = small.check();
  ASSERT_EQ(faults_of(check.findings), (Faults{PlanFault::long_breath}));
  EXPECT_NEAR(check.findings[0].figure, 12, 1e-9);
  small.plan.tempo_bpm += check.findings[0].by;
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
  small.plan.tempo_bpm = 40;
  small.plan.breath_seconds = 15;
  EXPECT_EQ(faults_of(small.check().findings), Faults{});
}

TEST(PlanCheck, WithoutAnOrganItSaysWhatItCan) {
  SmallPlan small;
  small.plan.tempo_bpm = 40;
  const auto route = plan::make_route(small.plan, small.score);
  ASSERT_TRUE(route.ok());
  const CheckContext context = make_check_context(small.plan, small.score, *route);
  const PlanCheck check = check_plan(context, {});
  EXPECT_TRUE(check.joins.empty());
  ASSERT_EQ(check.findings.size(), 1u);
  EXPECT_FALSE(sentence(context, check.findings[0]).empty());
}

TEST(PlanCheck, PlacesNotSaidAreToldAsANote) {
  SmallPlan small;
  small.organ.stops[3].location = {};
  const PlanCheck check = small.check();
  EXPECT_EQ(faults_of(check.findings), Faults{});
  EXPECT_TRUE(find(check.findings, PlanFault::places_unknown) != nullptr);
}

// Whatever is planned: no crash, order kept, the same again, every finding with a sentence, and
// equal registrations never a finding of a join.
TEST(PlanCheck, RandomPlansAreJudgedAlikeTwice) {
  std::mt19937 random(11);
  for (int round = 0; round < 100; ++round) {
    SmallPlan small;
    for (organ::Registration& one : small.drawn) one = random_registration(small.organ, random);
    if (round % 3 == 0) small.drawn[2] = small.drawn[1];
    small.sound_as_drawn();
    small.plan.helper = round % 7 == 0;
    const CheckContext context = small.context();
    const PlanCheck check = check_plan(context, small.drawn, small.heard);
    const PlanCheck again = check_plan(context, small.drawn, small.heard);
    ASSERT_EQ(check.findings.size(), again.findings.size());
    for (std::size_t i = 0; i < check.findings.size(); ++i) {
      EXPECT_FALSE(sentence(context, check.findings[i]).empty());
      EXPECT_EQ(sentence(context, check.findings[i]), sentence(context, again.findings[i]));
      if (i > 0) {
        EXPECT_LE(check.findings[i - 1].fault, check.findings[i].fault);
      }
      if (round % 3 == 0) {
        EXPECT_NE(check.findings[i].join, 1);
      }
    }
    for (const JoinWork& join : check.joins) {
      EXPECT_FALSE(describe(context, join).empty());
      EXPECT_LE(*join.needed_lift_s, *join.needed_s + 1e-12);
    }
  }
}

}  // namespace
}  // namespace loftbeat::advise
