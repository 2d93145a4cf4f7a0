// The search under the planner, against trying everything.

#include "advise/cheapest_sequences.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <tuple>

namespace loftbeat::advise {
namespace {

// Costs are small whole numbers, so that sums are exact and equal sums come often.
SequenceProblem random_problem(std::mt19937& random) {
  const auto upto = [&](unsigned most) { return static_cast<std::size_t>(random() % (most + 1)); };
  SequenceProblem problem;
  const std::size_t passes = 1 + upto(4);
  const std::size_t candidates = 1 + upto(5);
  for (std::size_t p = 0; p < passes; ++p) {
    problem.pass_cost.emplace_back();
    for (std::size_t c = 0; c < candidates; ++c) {
      problem.pass_cost.back().push_back(upto(5) == 0 ? kForbidden : static_cast<double>(upto(6)));
    }
  }
  for (std::size_t j = 0; j + 1 < passes; ++j) {
    Steps steps(candidates);
    for (std::size_t from = 0; from < candidates; ++from) {
      for (std::uint32_t to = 0; to < candidates; ++to) {
        if (upto(2) > 0) steps[from].push_back({to, static_cast<double>(upto(4))});
      }
    }
    problem.joins.push_back(std::make_shared<const Steps>(std::move(steps)));
  }
  return problem;
}

void enumerate(const SequenceProblem& problem, Sequence so_far, std::vector<Sequence>& all) {
  const std::size_t pass = so_far.candidates.size();
  if (pass == problem.pass_cost.size()) {
    all.push_back(std::move(so_far));
    return;
  }
  const auto try_candidate = [&](std::size_t to, double step_cost) {
    const double cost = problem.pass_cost[pass][to];
    if (cost == kForbidden) return;
    Sequence longer = so_far;
    longer.cost += step_cost + cost;
    longer.candidates.push_back(to);
    enumerate(problem, std::move(longer), all);
  };
  if (pass == 0) {
    for (std::size_t c = 0; c < problem.pass_cost[0].size(); ++c) try_candidate(c, 0);
    return;
  }
  for (const Step& step : (*problem.joins[pass - 1])[so_far.candidates.back()]) {
    try_candidate(step.to, step.cost);
  }
}

std::vector<Sequence> all_sorted(const SequenceProblem& problem) {
  std::vector<Sequence> all;
  enumerate(problem, {}, all);
  std::sort(all.begin(), all.end(), [](const Sequence& a, const Sequence& b) {
    if (a.cost != b.cost) return a.cost < b.cost;
    return std::lexicographical_compare(a.candidates.rbegin(), a.candidates.rend(),
                                        b.candidates.rbegin(), b.candidates.rend());
  });
  return all;
}

TEST(CheapestSequences, AreThoseThatTryingEverythingFinds) {
  std::mt19937 random(7);
  int without_any = 0;
  for (int trial = 0; trial < 500; ++trial) {
    const SequenceProblem problem = random_problem(random);
    std::vector<Sequence> expected = all_sorted(problem);
    if (expected.empty()) ++without_any;
    for (const std::size_t most : {1U, 3U, 40U}) {
      auto head = expected;
      head.resize(std::min(head.size(), most));
      EXPECT_EQ(cheapest_sequences(problem, most), head) << "trial " << trial << ", most " << most;
    }
  }
  EXPECT_GT(without_any, 0);
  EXPECT_LT(without_any, 250);
}

TEST(CheapestSequences, NothingToDoIsNothing) {
  EXPECT_TRUE(cheapest_sequences({}, 3).empty());
  SequenceProblem one;
  one.pass_cost = {{2, 1}};
  EXPECT_TRUE(cheapest_sequences(one, 0).empty());
  EXPECT_EQ(cheapest_sequences(one, 1), (std::vector<Sequence>{{1, {1}}}));
  one.pass_cost = {{kForbidden, kForbidden}};
  EXPECT_TRUE(cheapest_sequences(one, 1).empty());
}

}  // namespace
}  // namespace loftbeat::advise
