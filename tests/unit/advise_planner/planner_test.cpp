// The planner against trying every sequence, with the cost written down a second time.

#include "advise/planner.h"

#include "second_costs.h"

namespace loftbeat::advise {
namespace {

// Every sequence tried.
class Trial {
 public:
  explicit Trial(const RandomCase& at) : costs_(at) {
    for (std::size_t p = 0; p + 1 < costs_.passes(); ++p) join(p);
  }

  [[nodiscard]] double cheapest() const {
    double best = kNever;
    for (std::size_t c = 0; c < costs_.candidates(); ++c) go_on(0, c, costs_.of_pass(0, c), best);
    return best;
  }

 private:
  void join(std::size_t p) {
    const std::size_t count = costs_.candidates();
    joins_.emplace_back(count, std::vector<double>(count, kNever));
    for (std::size_t a = 0; a < count; ++a) {
      if (costs_.of_pass(p, a) >= kNever) continue;
      for (std::size_t b = 0; b < count; ++b) {
        if (costs_.of_pass(p + 1, b) < kNever) joins_[p][a][b] = costs_.of_join(p, a, b);
      }
    }
  }

  void go_on(std::size_t p, std::size_t c, double sum, double& best) const {
    if (sum >= kNever) return;
    if (p + 1 == costs_.passes()) {
      best = std::min(best, sum);
      return;
    }
    for (std::size_t next = 0; next < costs_.candidates(); ++next) {
      const double step = joins_[p][c][next];
      if (step < kNever) go_on(p + 1, next, sum + step + costs_.of_pass(p + 1, next), best);
    }
  }

  SecondCosts costs_;
  std::vector<std::vector<std::vector<double>>> joins_;
};

TEST(Planner, FindsWhatTryingEverythingFinds) {
  std::mt19937 random(2024);
  const pipes::RankPowers ranks(parish().recipes);
  int found = 0;
  int moving = 0;
  for (int trial = 0; trial < cases(1000); ++trial) {
    const RandomCase at(random, 5, ranks);
    const Suggestions suggestions = suggest_registrations(at.question);
    const double best = Trial(at).cheapest();
    ASSERT_EQ(suggestions.plans.empty(), best >= kNever) << "trial " << trial;
    if (suggestions.plans.empty()) continue;
    ++found;
    ASSERT_EQ(suggestions.plans.front().leaning, Leaning::even);
    ASSERT_NEAR(suggestions.plans.front().cost, best, 1e-9) << "trial " << trial;
    moving += suggestions.plans.front().joins_with_moves > 0 ? 1 : 0;
  }
  std::printf("%d cases with a plan, %d of them with moves\n", found, moving);
  EXPECT_GT(found, cases(1000) / 3);
  EXPECT_GT(moving, cases(1000) / 10);
}

// On organs with more stops than can be tried out, for hymns by chance.
TEST(Planner, SuggestsNothingThatItsOwnCheckFindsFaultWith) {
  std::mt19937 random(5);
  const pipes::RankPowers ranks(parish().recipes);
  int plans = 0;
  for (int trial = 0; trial < cases(60); ++trial) {
    RandomCase at(random, 14, ranks);
    at.sing_another(static_cast<std::uint64_t>(trial));
    const Suggestions suggestions = suggest_registrations(at.question);
    for (const Suggestion& one : suggestions.plans) {
      ++plans;
      EXPECT_TRUE(clean(one.check.findings)) << "trial " << trial;
      ASSERT_EQ(one.drawn.size(), at.route.passes.size());
      for (const organ::Registration& drawn : one.drawn) {
        for (const std::size_t stop : at.question.held)
          EXPECT_EQ(std::count(drawn.stops.begin(), drawn.stops.end(), stop), 1);
        for (const std::size_t stop : at.question.barred)
          EXPECT_EQ(std::count(drawn.stops.begin(), drawn.stops.end(), stop), 0);
      }
      EXPECT_NEAR(one.cost,
                  one.wish_cost + one.promise_cost + move_weight(one.leaning) * one.move_cost,
                  1e-9);
    }
    // Each leaning is best by its own measure.
    for (const Suggestion& one : suggestions.plans) {
      for (const Suggestion& other : suggestions.plans) {
        EXPECT_LE(one.cost, other.wish_cost + other.promise_cost +
                                move_weight(one.leaning) * other.move_cost + 1e-9);
      }
    }
  }
  EXPECT_GT(plans, cases(60) / 2);
}

// The same of organs typed as stop lists.
TEST(Planner, SuggestsNothingFaultyOnAnOrganOfAStopList) {
  std::mt19937 random(6);
  const pipes::RankPowers ranks(parish().recipes);
  int plans = 0;
  for (int trial = 0; trial < cases(60); ++trial) {
    RandomCase at(random, 1, ranks);
    at.retype(random, ranks);
    const Suggestions suggestions = suggest_registrations(at.question);
    for (const Suggestion& one : suggestions.plans) {
      ++plans;
      EXPECT_TRUE(clean(one.check.findings)) << "trial " << trial;
      EXPECT_TRUE(clean(check_plan(at.context, one.drawn, one.measured).findings)) << trial;
    }
  }
  EXPECT_GT(plans, cases(60) / 2);
}

// What a candidate that may stand sounds like can be wished; a figure just beyond all of them, by
// less than is heard, too; and further beyond not.
TEST(Planner, TellsOnlyWishesThatNothingComesNear) {
  std::mt19937 random(8);
  const pipes::RankPowers ranks(parish().recipes);
  int told = 0;
  for (int trial = 0; trial < cases(40); ++trial) {
    RandomCase at(random, 6, ranks);
    const SecondCosts costs(at);
    double most = -1;
    double keenest = -1;
    for (std::size_t c = 0; c < costs.candidates(); ++c) {
      if (costs.of_pass(1, c) >= kNever) continue;
      const Heard heard =
          measure_registration(at.question.place, costs.candidate(c), at.context.sounds[1]).heard;
      most = std::max({most, heard.over.lead_sone, 1.0});
      keenest = std::max(keenest, *heard.sharpness_acum);
    }
    if (most < 0) continue;
    const auto beyond = [&](std::optional<double> lead, std::optional<double> acum) {
      for (auto& [verse, pass] : at.plan.verse_plans) pass.wish.reset();
      at.plan.verse_plans[1].wish = plan::Wish{plan::WishKind::figures, lead, acum, 12};
      const Suggestions found = suggest_registrations(at.question);
      for (const UnreachableWish& one : found.unreachable) {
        EXPECT_EQ(one.pass, 1U);
        EXPECT_EQ(one.line, 12);
      }
      return found.unreachable.size();
    };
    const std::size_t stuck = suggest_registrations(at.question).stuck_at ? 1 : 0;
    if (stuck > 0) continue;  // nothing is weighed where nothing may stand
    EXPECT_EQ(beyond(most, keenest), 0U);
    EXPECT_EQ(beyond(most * 1.14, keenest + 0.09), 0U);
    EXPECT_EQ(beyond(most * 1.16, keenest), 1U);
    EXPECT_EQ(beyond(most * 1.16, keenest + 0.11), 2U);
    ++told;
  }
  EXPECT_GT(told, cases(40) / 2);
}

TEST(Planner, LeavesWhatStandsWhereThatIsWished) {
  std::mt19937 random(3);
  const pipes::RankPowers ranks(parish().recipes);
  RandomCase at(random, 5, ranks);
  for (auto& [verse, pass] : at.plan.verse_plans) pass.wish.reset();
  at.question.held.clear();
  at.question.barred.clear();
  organ::Registration stated = organ::empty_registration(at.organ);
  stated.stops = {0};
  for (auto& pass : at.question.stated) pass = stated;
  const Suggestions suggestions = suggest_registrations(at.question);
  ASSERT_FALSE(suggestions.plans.empty());
  for (const organ::Registration& drawn : suggestions.plans.front().drawn) EXPECT_EQ(drawn, stated);
}

}  // namespace
}  // namespace loftbeat::advise
