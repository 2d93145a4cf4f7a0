// Good playing is never scolded, and each single fault is named, and only it. The players are
// invented (simulate/model_players.h); what good playing is: common practice, no source.

#include <iostream>
#include <tuple>

#include <gtest/gtest.h>

#include "suite.h"

namespace loftbeat::model_players {
namespace {

using simulate::FaultKind;

constexpr Seeds kAllSeeds{1, 201};
constexpr double kLeastNamed = 0.95;

// The 200 seeds in four tests, so that they run side by side.
class GoodPlayers : public testing::TestWithParam<std::tuple<int, Follower>> {};

TEST_P(GoodPlayers, HearNoReproach) {
  const auto [quarter, follower] = GetParam();
  const auto begin = kAllSeeds.begin + 50 * static_cast<std::uint64_t>(quarter);
  const Rate rate = without_finding({begin, begin + 50}, follower);
  std::cout << "without finding: " << rate.text() << "\n";
  EXPECT_EQ(rate.good, rate.all) << rate.text();
}

INSTANTIATE_TEST_SUITE_P(Both, GoodPlayers,
                         testing::Combine(testing::Range(0, 4),
                                          testing::Values(Follower::truth, Follower::real)));

class SingleFaults : public testing::TestWithParam<std::tuple<FaultKind, Follower>> {};

TEST_P(SingleFaults, AreNamedAndNothingElse) {
  const auto [fault, follower] = GetParam();
  const Rate rate = named_alone(fault, kAllSeeds, follower);
  std::cout << simulate::to_string(fault) << " named alone: " << rate.text() << "\n";
  EXPECT_GE(rate.share(), kLeastNamed) << rate.text();
}

INSTANTIATE_TEST_SUITE_P(Both, SingleFaults,
                         testing::Combine(testing::ValuesIn(simulate::model_faults()),
                                          testing::Values(Follower::truth, Follower::real)));

}  // namespace
}  // namespace loftbeat::model_players
