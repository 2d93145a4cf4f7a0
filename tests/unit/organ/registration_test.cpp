#include <gtest/gtest.h>

#include "village_organ.h"

namespace loftbeat::organ {
namespace {

using Indexes = std::vector<std::size_t>;

TEST(Registration, FindsAStopAsAPersonWouldWriteIt) {
  const Organ organ = village_organ();
  for (const char* name : {"Great Principal 4", "great principal 4'", "Principal 4",
                           "Great Principal", "PRINCIPAL", "  Great   Principal  4\xE2\x80\xB2"}) {
    const auto found = find_stop(organ, name);
    ASSERT_TRUE(found.ok()) << name << ": " << to_string(found.error());
    EXPECT_EQ(*found, 1U) << name;
  }
  EXPECT_EQ(*find_stop(organ, "Swell Open Diapason"), 4U);
}

TEST(Registration, SaysWhatElseMayHaveBeenMeant) {
  const Organ organ = village_organ();
  const auto several = find_stop(organ, "Open Diapason 8");
  ASSERT_FALSE(several.ok());
  EXPECT_NE(several.error().message.find("Great Open Diapason 8, Swell Open Diapason 8"),
            std::string::npos);
  const auto none = find_stop(organ, "Great Princpal 4");
  ASSERT_FALSE(none.ok());
  EXPECT_NE(none.error().hint.find("Great Principal 4"), std::string::npos) << none.error().hint;
}

TEST(Registration, ResolvesThePlansNames) {
  const Organ organ = village_organ();
  plan::RegistrationPlan names;
  names.stops = {"Oboe", "Great Open Diapason 8", "Oboe 8"};
  names.couplers = {"Swell to Great"};
  names.swell = 0.25;
  const auto drawn = resolve(organ, names, "x.plan.toml");
  ASSERT_TRUE(drawn.ok()) << to_string(drawn.error());
  EXPECT_EQ(drawn->stops, (Indexes{0, 5}));
  EXPECT_EQ(drawn->couplers, (Indexes{0}));
  EXPECT_EQ(drawn->swell, (std::vector<double>{1, 0.25, 1}));
  names.swell.reset();
  names.swell_of = {{"swell", 0.5}};
  EXPECT_EQ(resolve(organ, names, "")->swell[1], 0.5);
}

TEST(Registration, ErrorsNameThePlansLine) {
  const Organ organ = village_organ();
  plan::RegistrationPlan names;
  names.lines = {7, 8, 9, 10, 11};
  names.stops = {"Great Trumpet 8"};
  EXPECT_NE(to_string(resolve(organ, names, "x.plan.toml").error()).find("x.plan.toml:7"),
            std::string::npos);
  // Each key has a line of its own.
  const auto error = [&] { return to_string(resolve(organ, names, "x.plan.toml").error()); };
  names.stops = {"Oboe"};
  names.couplers = {"Swell to Graet"};
  EXPECT_NE(error().find("x.plan.toml:8"), std::string::npos) << error();
  names.couplers.reset();
  names.tremulants = {"Gerat Tremulant"};
  EXPECT_NE(error().find("x.plan.toml:9"), std::string::npos) << error();
  names.tremulants.reset();
  names.swell_of = {{"Great", 0.5}};  // stands in no box
  EXPECT_NE(error().find("x.plan.toml:10"), std::string::npos) << error();
}

TEST(Registration, NothingStatedIsNothingDrawnAndEveryBoxOpen) {
  const Organ organ = village_organ();
  EXPECT_EQ(*resolve(organ, {}, ""), empty_registration(organ));
  EXPECT_TRUE(empty_registration(organ).stops.empty());
}

TEST(Registration, APistonGovernsItsDivisionAlone) {
  const Organ organ = village_organ();
  Registration drawn = empty_registration(organ);
  drawn.stops = {2, 5, 6};
  drawn.couplers = {0, 1};
  const Registration after = after_piston(organ, drawn, organ.pistons[0]);
  EXPECT_EQ(after.stops, (Indexes{0, 1, 5, 6}));
  EXPECT_EQ(after.couplers, (Indexes{1}));  // Swell to Great is played on the Great
  const Registration general = after_piston(organ, drawn, organ.pistons[1]);
  EXPECT_EQ(general.stops, (Indexes{5, 6}));
  EXPECT_EQ(general.couplers, (Indexes{0}));
  EXPECT_EQ(after_piston(organ, general, organ.pistons[1]), general);
}

TEST(Registration, CouplersSoundOtherDivisionsAndDoNotChain) {
  const Organ organ = village_organ();
  Registration drawn = empty_registration(organ);
  drawn.couplers = {0, 1, 2};
  EXPECT_EQ(coupled(organ, drawn, {0, 60}), (std::vector<Speaking>{{0, 60}, {1, 60}}));
  EXPECT_EQ(coupled(organ, drawn, {2, 40}), (std::vector<Speaking>{{2, 40}, {0, 40}}));
  EXPECT_EQ(coupled(organ, drawn, {1, 60}), (std::vector<Speaking>{{1, 60}, {1, 72}}));
  // The Swell ends at 93: the octave coupler has no pipe there, nor has Swell to Great.
  EXPECT_EQ(coupled(organ, drawn, {1, 82}), (std::vector<Speaking>{{1, 82}}));
  EXPECT_EQ(coupled(organ, drawn, {0, 95}), (std::vector<Speaking>{{0, 95}}));
}

}  // namespace
}  // namespace loftbeat::organ
