#include <gtest/gtest.h>

#include "plan/read.h"
#include "plan/registration.h"

namespace loftbeat::plan {
namespace {

using Names = std::vector<std::string>;

constexpr const char* kPlan = R"(score = "a.mxl"
organ = "o.organ.toml"
church = "../c.church.toml"
people = 120
stops = ["Great Open Diapason 8"]
couplers = ["Swell to Great"]
swell = 0.5
[play-over-pass]
stops = ["Flute 4"]
[verse.2]
swell = { Swell = 0.25, Choir = 1 }
[verse.3]
stops = []
couplers = []
)";

Plan plan() {
  const auto read = parse_plan(kPlan, "p/x.plan.toml");
  EXPECT_TRUE(read.ok()) << to_string(read.error());
  return read.ok() ? *read : Plan{};
}

TEST(PlanRegistration, FilesLieAsSeenFromThePlan) {
  EXPECT_EQ(plan().organ_path, "p/o.organ.toml");
  EXPECT_EQ(plan().church_path, "c.church.toml");
  EXPECT_EQ(plan().people, 120);
  EXPECT_EQ(plan().lines.organ, 2);
}

TEST(PlanRegistration, WhatAPassLeavesOutIsThePlans) {
  const RegistrationPlan play_over = registration_of(plan(), PassKind::play_over);
  EXPECT_EQ(play_over.stops, Names{"Flute 4"});
  EXPECT_EQ(play_over.couplers, Names{"Swell to Great"});
  EXPECT_EQ(play_over.swell, 0.5);
  EXPECT_EQ(play_over.lines.stops, 9);
  EXPECT_EQ(play_over.lines.couplers, 6);  // the plan's
  const RegistrationPlan first = registration_of(plan(), PassKind::verse, 1);
  EXPECT_EQ(first.stops, Names{"Great Open Diapason 8"});
  EXPECT_EQ(first.lines.stops, 5);
  const RegistrationPlan second = registration_of(plan(), PassKind::verse, 2);
  EXPECT_EQ(second.stops, Names{"Great Open Diapason 8"});
  EXPECT_FALSE(second.swell.has_value());
  EXPECT_EQ(second.lines.swell, 11);
  EXPECT_EQ(second.lines.stops, 5);
  EXPECT_EQ(second.swell_of->at("Swell"), 0.25);
  const RegistrationPlan third = registration_of(plan(), PassKind::verse, 3);
  EXPECT_EQ(third.stops, Names{});  // an empty list is not left out
  EXPECT_EQ(third.couplers, Names{});
  EXPECT_EQ(registration_of(plan(), PassKind::amen).stops, Names{"Great Open Diapason 8"});
}

TEST(PlanRegistration, ARoutePassTellsItsVerse) {
  RoutePass pass;
  pass.label = "2";
  EXPECT_TRUE(registration_of(plan(), pass).swell_of.has_value());
  pass.label = "1";
  EXPECT_FALSE(registration_of(plan(), pass).swell_of.has_value());
}

TEST(PlanRegistration, WrongValuesAreRefusedWhereTheyStand) {
  for (const char* more : {"stops = \"Flute\"", "stops = [8]", "stops = [\"\"]", "swell = 1.5",
                           "swell = \"open\"", "swell = { Swell = -1 }", "people = -1",
                           "people = 10001", "organ = 3", "church = \"\"", "stop = []"}) {
    const auto read = parse_plan(std::string("score = \"a\"\n") + more + "\n", "x.plan.toml");
    ASSERT_FALSE(read.ok()) << more;
    EXPECT_NE(to_string(read.error()).find("x.plan.toml:2"), std::string::npos)
        << to_string(read.error());
  }
}

}  // namespace
}  // namespace loftbeat::plan
