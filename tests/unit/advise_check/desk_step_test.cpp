#include "advise/desk_step.h"

#include "small_plan.h"

namespace loftbeat::advise {
namespace {

TEST(DeskStep, IsOneForEachJoinWithThatJoinsWork) {
  SmallPlan small;
  const CheckContext context = small.context();
  const PlanCheck check = check_plan(context, small.drawn, {});
  const auto steps = desk_steps(context, check, small.drawn);
  ASSERT_EQ(steps.size(), check.joins.size());
  for (std::size_t i = 0; i < steps.size(); ++i) {
    EXPECT_EQ(steps[i].join, static_cast<std::size_t>(check.joins[i].join));
    EXPECT_EQ(steps[i].work.movements.size(), check.joins[i].work.movements.size());
    EXPECT_EQ(steps[i].empty(), small.drawn[i] == small.drawn[i + 1]);
  }
  ASSERT_TRUE(steps[1].look.has_value());
  EXPECT_TRUE(steps[1].look->known);
}

// A later general piston sets all, whatever was missed before it; knobs do not.
TEST(DeskStep, NamesThePistonThatPutsItRight) {
  SmallPlan small;
  organ::Piston piston;
  piston.name = "General 1";
  piston.stops = {0, 2, 3, 5, 7};
  small.organ.pistons = {piston};
  small.drawn[3].stops = piston.stops;
  small.drawn[3].couplers.clear();
  for (auto& drawn : small.drawn) drawn.couplers.clear();
  const CheckContext context = small.context();
  const PlanCheck check = check_plan(context, small.drawn, {});
  const auto steps = desk_steps(context, check, small.drawn);
  ASSERT_EQ(check.joins[2].work.movements.size(), 1u);
  if (check.joins[2].work.movements.front().is_piston()) {
    ASSERT_TRUE(steps[1].put_right_at.has_value());
    EXPECT_EQ(*steps[1].put_right_at, 2u);
  } else {
    EXPECT_FALSE(steps[1].put_right_at.has_value());
  }
  EXPECT_FALSE(steps[2].put_right_at.has_value());  // nothing comes after it
}

TEST(DeskStep, WithoutAnOrganThereIsNothingToDo) {
  SmallPlan small;
  static_cast<void>(small.context());
  const CheckContext bare = make_check_context(small.plan, small.score, small.route);
  EXPECT_TRUE(desk_steps(bare, check_plan(bare, {}), {}).empty());
}

}  // namespace
}  // namespace loftbeat::advise
