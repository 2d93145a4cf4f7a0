#include <cstdio>
#include <string>

#include "advise/advise.h"
#include "music/read.h"
#include "pipes/read.h"
#include "plan/read.h"
#include "plan/registration.h"
#include "room/read.h"
#include "small_plan.h"

namespace loftbeat::advise {
namespace {

// A plan of the demo parish with all that it names, checked.
struct DemoCheck {
  explicit DemoCheck(const std::string& hymn) {
    const std::string root = LOFTBEAT_SOURCE_DIR;
    plan = *plan::read_plan(root + "/sessions/quaverham/" + hymn + ".plan.toml");
    score = music::read_score(plan.score_path)->score;
    route = *plan::make_route(plan, score);
    organ = *organ::read_organ(plan.organ_path);
    const room::Church church = *room::read_church(plan.church_path);
    const pipes::Recipes recipes = *pipes::read_recipes(root + "/soundfonts");
    const StopPowers powers = *StopPowers::make(organ, recipes, pipes::RankPowers(recipes));
    console = lay_out(organ);
    const int people = plan.people.value_or(church.people_expected);
    const Hall hall = make_hall(church, people, people);
    context = make_check_context(plan, score, route, &console, people);
    std::vector<organ::Registration> drawn;
    std::vector<MeasuredRegistration> heard;
    for (std::size_t p = 0; p < route.passes.size(); ++p) {
      drawn.push_back(
          *organ::resolve(organ, plan::registration_of(plan, route.passes[p]), plan.file));
      heard.push_back(measure_registration({&organ, &powers, &hall}, drawn[p], context.sounds[p]));
    }
    check = check_plan(context, drawn, heard);
    print(hymn, heard);
  }

  void print(const std::string& hymn, const std::vector<MeasuredRegistration>& heard) const {
    std::printf("%s, %d people\n", hymn.c_str(), context.people);
    for (std::size_t p = 0; p < heard.size(); ++p) {
      const Heard& one = heard[p].heard;
      std::printf("  %s: %.1f sone, %.2f acum, lead %.1f, support %.1f, upper %.1f, singing %.1f\n",
                  route.passes[p].label.c_str(), one.sone, one.sharpness_acum.value_or(0),
                  one.over.lead_sone, one.over.support_sone, one.over.exposure_sone,
                  one.over.singing_sone);
    }
    for (const JoinWork& join : check.joins) {
      std::printf("  join %d: %s\n", join.join, describe(context, join).c_str());
    }
    for (const PlanFinding& finding : check.findings) {
      std::printf("  - %s\n", sentence(context, finding).c_str());
    }
  }

  plan::Plan plan;
  music::Score score;
  plan::Route route;
  organ::Organ organ;
  ConsoleMap console;
  CheckContext context;
  PlanCheck check;
};

const PlanFinding* at_join(const PlanCheck& check, int join) {
  for (const PlanFinding& finding : check.findings) {
    if (finding.join == join && !is_note(finding.fault)) return &finding;
  }
  return nullptr;
}

// One stop drawn on the right, in a join of six beats: good. Then two sides, both ways: not.
TEST(QuaverhamPlans, Evening) {
  const DemoCheck demo("evening");
  EXPECT_EQ(at_join(demo.check, 0), nullptr);
  EXPECT_EQ(at_join(demo.check, 1), nullptr);
  const PlanFinding* last = at_join(demo.check, 2);
  ASSERT_NE(last, nullptr);
  EXPECT_EQ(last->fault, PlanFault::several_movements);
}

TEST(QuaverhamPlans, OldHundredth) {
  const DemoCheck demo("old-hundredth");
  EXPECT_EQ(at_join(demo.check, 0), nullptr);
  ASSERT_NE(at_join(demo.check, 1), nullptr);
  EXPECT_EQ(at_join(demo.check, 1)->fault, PlanFault::several_movements);
}

// The verse sung alone leaves time for everything.
TEST(QuaverhamPlans, Azmon) {
  const DemoCheck demo("azmon");
  for (const PlanFinding& finding : demo.check.findings) EXPECT_LT(finding.join, 0);
}

}  // namespace
}  // namespace loftbeat::advise
