#include "advise/chorus_family.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

#include "parish.h"

namespace loftbeat::advise {
namespace {

using organ::Registration;

organ::Organ demo_organ(const std::string& name) {
  const auto organ = organ::read_organ(std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/" +
                                       name + ".organ.toml");
  EXPECT_TRUE(organ.ok()) << to_string(organ.error());
  return *organ;
}

Registration drawn_on(const organ::Organ& organ, const std::vector<std::string>& stops) {
  plan::RegistrationPlan names;
  names.stops = stops;
  const auto drawn = organ::resolve(organ, names, "");
  EXPECT_TRUE(drawn.ok()) << to_string(drawn.error());
  return *drawn;
}

bool has(const std::vector<Registration>& family, const Registration& drawn) {
  return std::find(family.begin(), family.end(), drawn) != family.end();
}

// The rules of building up, one by one. Source: common practice, no source.
TEST(ChorusFamily, AChorusIsBuiltFromBelow) {
  const organ::Organ& organ = parish().organ;
  const auto chorus = [&](const std::vector<std::string>& stops) {
    return is_chorus(organ, drawn_on(organ, stops));
  };
  EXPECT_TRUE(chorus({}));
  EXPECT_TRUE(chorus({"Great Open Diapason 8"}));
  EXPECT_TRUE(chorus({"Great Open Diapason 8", "Great Principal 4"}));
  EXPECT_TRUE(chorus({"Great Open Diapason 8", "Great Principal 4", "Great Fifteenth 2"}));
  EXPECT_TRUE(chorus({"Pedal Bourdon 16"}));
  EXPECT_FALSE(chorus({"Great Principal 4"}));
  EXPECT_FALSE(chorus({"Great Open Diapason 8", "Great Fifteenth 2"}));
  EXPECT_FALSE(chorus({"Great Open Diapason 8", "Great Mixture III"}));
  EXPECT_FALSE(chorus({"Swell Trumpet 8", "Great Principal 4"}));  // another division's 8'
}

TEST(ChorusFamily, ASmallOrganHasEverySetThatIsAChorus) {
  const organ::Organ organ = demo_organ("crotchet-cross");
  ASSERT_LE(organ.stops.size() + organ.couplers.size(), kEverySetControls);
  const auto family = chorus_family(organ, {});
  const std::set<std::vector<std::size_t>> sets = [&] {
    std::set<std::vector<std::size_t>> all;
    for (const Registration& one : family) all.insert(one.stops);
    return all;
  }();
  std::size_t expected = 0;
  for (std::size_t bits = 1; bits < (std::size_t{1} << organ.stops.size()); ++bits) {
    Registration drawn = organ::empty_registration(organ);
    for (std::size_t i = 0; i < organ.stops.size(); ++i) {
      if ((bits >> i & 1U) != 0) drawn.stops.push_back(i);
    }
    if (!is_chorus(organ, drawn)) continue;
    ++expected;
    EXPECT_EQ(sets.count(drawn.stops), 1U);
  }
  EXPECT_EQ(sets.size(), expected);
}

TEST(ChorusFamily, OfEveryOrganTheyAreChorusesOnceEachAndNotTooMany) {
  for (const char* name : {"crotchet-cross", "quaverham", "minimsby"}) {
    const organ::Organ organ = demo_organ(name);
    const auto family = chorus_family(organ, {});
    EXPECT_GT(family.size(), 20U) << name;
    EXPECT_LE(family.size(), kMostCandidates) << name;
    for (std::size_t i = 0; i < family.size(); ++i) {
      EXPECT_TRUE(is_chorus(organ, family[i])) << name << " " << i;
      EXPECT_TRUE(std::is_sorted(family[i].stops.begin(), family[i].stops.end()));
    }
    std::set<std::pair<std::vector<std::size_t>, std::vector<std::size_t>>> once;
    for (const Registration& one : family) once.insert({one.stops, one.couplers});
    EXPECT_EQ(once.size(), family.size()) << name;
    EXPECT_EQ(chorus_family(organ, {}), family) << name << ": the same again";
  }
}

TEST(ChorusFamily, HasThePlainChorusesOfALargeOrganAndTheirNeighbours) {
  const organ::Organ& organ = parish().organ;
  const auto family = chorus_family(organ, {});
  const std::vector<std::string> plain = {"Great Open Diapason 8", "Great Principal 4"};
  EXPECT_TRUE(has(family, drawn_on(organ, plain)));
  for (const char* more :
       {"Great Fifteenth 2", "Great Flute 4", "Swell Trumpet 8", "Great Stopped Diapason 8"}) {
    auto stops = plain;
    stops.emplace_back(more);
    EXPECT_TRUE(has(family, drawn_on(organ, stops))) << more;
  }
}

TEST(ChorusFamily, HeldStopsAreAlwaysDrawnAndBarredOnesNever) {
  const organ::Organ& organ = parish().organ;
  FamilyWish wish;
  wish.held = {*organ::find_stop(organ, "Great Stopped Diapason 8")};
  wish.barred = {*organ::find_stop(organ, "Great Mixture III")};
  Registration stated = drawn_on(organ, {"Great Principal 4"});  // no chorus, but stated
  wish.besides = {stated};
  const auto family = chorus_family(organ, wish);
  ASSERT_GT(family.size(), 20U);
  EXPECT_EQ(family.front(), stated);
  for (std::size_t i = 1; i < family.size(); ++i) {
    const auto& stops = family[i].stops;
    EXPECT_TRUE(std::binary_search(stops.begin(), stops.end(), wish.held[0]));
    EXPECT_FALSE(std::binary_search(stops.begin(), stops.end(), wish.barred[0]));
  }
}

}  // namespace
}  // namespace loftbeat::advise
