// A crescendo pedal takes no hand, and sounds like the same stops drawn.

#include "../advise/parish.h"
#include "small_plan.h"

namespace loftbeat::advise {
namespace {

organ::Crescendo three_stages() {
  organ::Crescendo pedal;
  pedal.stages = {{{2}, {}}, {{3}, {}}, {{4, 5}, {0}}};
  return pedal;
}

TEST(CrescendoWork, TakesNoHandWhereTheSameStopsWouldTakeSeveral) {
  SmallPlan small;
  small.organ.crescendo = three_stages();
  organ::Registration base = drawn(small.organ, {0, 7});
  small.drawn.assign(4, base);
  small.drawn[2].crescendo = small.drawn[3].crescendo = 3;
  const PlanCheck pedal = small.check();
  EXPECT_EQ(faults_of(pedal.findings), Faults{});
  ASSERT_EQ(pedal.joins[1].work.swells.size(), 1u);
  EXPECT_TRUE(pedal.joins[1].work.movements.empty());
  EXPECT_EQ(describe(small.context(), pedal.joins[1]), "crescendo pedal to 3.");
  for (auto& pass : small.drawn) pass = organ::with_crescendo(small.organ, pass);
  EXPECT_NE(faults_of(small.check().findings), Faults{});
}

TEST(CrescendoWork, SoundsLikeTheSameStopsDrawn) {
  organ::Organ organ = parish().organ;
  organ::Crescendo pedal;
  pedal.stages = {{{0}, {}}, {{1, 2}, {}}};
  organ.crescendo = pedal;
  const pipes::RankPowers ranks(parish().recipes);
  const auto powers = StopPowers::make(organ, parish().recipes, ranks);
  ASSERT_TRUE(powers.ok());
  const Hall hall = make_hall(parish().church, 100, 100);
  organ::Registration by_pedal = organ::empty_registration(organ);
  by_pedal.crescendo = 2;
  organ::Registration by_hand = organ::empty_registration(organ);
  by_hand.stops = {0, 1, 2};
  PassSound sound;
  sound.hands = {{0, 1, {0, 60}}, {0, 1, {0, 67}}};
  const ListeningPlace place{&organ, &*powers, &hall};
  const auto pedal_sound = measure_registration(place, by_pedal, sound);
  const auto hand_sound = measure_registration(place, by_hand, sound);
  EXPECT_FALSE(pedal_sound.silent);
  EXPECT_EQ(pedal_sound.heard.sone, hand_sound.heard.sone);
  EXPECT_EQ(sounding_divisions(organ, by_pedal), sounding_divisions(organ, by_hand));
}

}  // namespace
}  // namespace loftbeat::advise
