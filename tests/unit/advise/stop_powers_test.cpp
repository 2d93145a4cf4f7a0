#include <gtest/gtest.h>

#include "parish.h"

namespace loftbeat::advise {
namespace {

organ::Organ organ_with(const std::string& more) {
  const auto organ = organ::parse_organ(
      "[[division]]\nname = \"Great\"\n[[stop]]\nname = \"A\"\ndivision = \"Great\"\n" + more,
      "x.toml");
  EXPECT_TRUE(organ.ok()) << to_string(organ.error());
  return *organ;
}

TEST(StopPowers, AreThoseOfTheRankAndItsOffsets) {
  const Parish& all = parish();
  const pipes::RankPowers ranks(all.recipes);
  const organ::Organ organ = organ_with("pitch = \"8\"\nfamily = \"principal\"\npower = 3\n");
  const auto powers = StopPowers::make(organ, all.recipes, ranks);
  ASSERT_TRUE(powers.ok());
  const auto* rank = all.recipes.find("principal-8");
  ASSERT_NE(rank, nullptr);
  Power expected{};
  add(expected, ranks.at(static_cast<std::size_t>(rank - all.recipes.ranks.data()), 60),
      hearing::power_from_level(3));
  expect_same(powers->at(0, 60), expected);
  EXPECT_NEAR(hearing::total_level(levels_of(powers->at(0, 60))),
              hearing::total_level(pipes::pipe_power(*rank, 60)) + 3, 1e-9);
}

TEST(StopPowers, AStopOnARankOfAnotherPitchIsPlayedOctavesOff) {
  const Parish& all = parish();
  const pipes::RankPowers ranks(all.recipes);
  const organ::Organ organ =
      organ_with("pitch = \"2\"\nfamily = \"principal\"\nrank = \"principal-4\"\n");
  const auto powers = StopPowers::make(organ, all.recipes, ranks);
  ASSERT_TRUE(powers.ok());
  const auto* rank = all.recipes.find("principal-4");
  expect_same(powers->at(0, 60),
              ranks.at(static_cast<std::size_t>(rank - all.recipes.ranks.data()), 72));
}

TEST(StopPowers, RefuseARankThatIsNotThereOrDoesNotFit) {
  const Parish& all = parish();
  const pipes::RankPowers ranks(all.recipes);
  const auto none = StopPowers::make(
      organ_with("pitch = \"8\"\nfamily = \"reed\"\nrank = \"oboe8\"\n"), all.recipes, ranks);
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.error().file, "x.toml");
  EXPECT_NE(none.error().hint.find("oboe-8"), std::string::npos) << none.error().hint;
  const auto twelfth = StopPowers::make(
      organ_with("pitch = \"2 2/3\"\nfamily = \"principal\"\nrank = \"principal-4\"\n"),
      all.recipes, ranks);
  EXPECT_FALSE(twelfth.ok());
}

TEST(StopPowers, EveryOrganOfTheParishHasItsRanksAndSpeaksOnEveryKey) {
  const Parish& all = parish();
  const pipes::RankPowers ranks(all.recipes);
  for (const char* name : {"crotchet-cross", "quaverham", "minimsby"}) {
    const auto organ = organ::read_organ(std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/" +
                                         name + ".organ.toml");
    ASSERT_TRUE(organ.ok());
    const auto powers = StopPowers::make(*organ, all.recipes, ranks);
    ASSERT_TRUE(powers.ok()) << to_string(powers.error());
    for (std::size_t s = 0; s < organ->stops.size(); ++s) {
      const organ::Division& division = organ->divisions[organ->stops[s].division];
      for (int key = division.lowest_key; key <= division.highest_key; ++key) {
        EXPECT_GT(hearing::total_level(levels_of(powers->at(s, key))), 50)
            << organ::full_name(*organ, organ->stops[s]) << " key " << key;
      }
    }
  }
}

}  // namespace
}  // namespace loftbeat::advise
