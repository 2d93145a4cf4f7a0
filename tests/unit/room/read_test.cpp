#include "room/read.h"

#include <gtest/gtest.h>

#include "church_fixture.h"

namespace loftbeat::room {
namespace {

Error error_of(const std::string& text) {
  const auto church = parse_church(text, "x.church.toml");
  EXPECT_FALSE(church.ok());
  return church.ok() ? Error{} : church.error();
}

void expect_error(const std::string& more, int line, const std::string& words) {
  const Error error = error_of(kVillageChurch + more);
  EXPECT_EQ(error.line, line) << to_string(error);
  EXPECT_NE(to_string(error).find(words), std::string::npos) << to_string(error);
}

// The lines of kVillageChurch are 17; what a test adds begins at 18.
TEST(ChurchFile, ReadsWhatIsThereAndAssumesTheRest) {
  const Church church = village_church();
  EXPECT_EQ(church.name, "St Example");
  EXPECT_EQ(church.volume_m3, 3600);
  EXPECT_EQ(church.surface_m2(), 1560);
  EXPECT_EQ(church.seats(), 300);
  EXPECT_EQ(church.people_expected, 150);
  EXPECT_EQ(church.people_count, PeopleCount::each);
  EXPECT_EQ(church.person, find_material("person-standing")->absorption);
  EXPECT_EQ(church.air.temperature_c, 20);
  EXPECT_EQ(church.pews[0].empty, find_material("pews-empty")->absorption);
}

TEST(ChurchFile, ReadsEverything) {
  const Church church = village_church(R"(absorb = "seated"
[singing]
effort = "loud"
voice-directivity = 3
[distance]
organ-to-people = 20
organ-to-player = 2
people-to-player = 15
[organ]
directivity = 2
[[surface]]
material = "oak-screen"
area = 12
[material.oak-screen]
absorption = [0.1, 0.08, 0.06, 0.06, 0.06, 0.05, 0.05]
source = "invented for this test"
)");
  EXPECT_EQ(church.person, find_material("person-seated")->absorption);
  EXPECT_EQ(church.effort, Effort::loud);
  EXPECT_EQ(church.voice_directivity_db, 3);
  EXPECT_EQ(church.distance.organ_to_people_m, 20);
  EXPECT_EQ(church.distance.organ_to_player_m, 2);
  EXPECT_EQ(church.distance.people_to_player_m, 15);
  EXPECT_EQ(church.organ_directivity, 2);
  EXPECT_EQ(church.surfaces.back().absorption[6], 0.05);
}

TEST(ChurchFile, NamesWhatIsWrongAndWhere) {
  expect_error("expectd = 3\n", 18, "expected");
  expect_error("absorb = \"standig\"\n", 18, "standing");
  expect_error("[distance]\norgan-to-people = 0\n", 19, "organ-to-people");
  expect_error("[[surface]]\nmaterial = \"limestne\"\narea = 3\n", 19, "limestone");
  expect_error("[[surface]]\nmaterial = \"person-seated\"\narea = 3\n", 19, "person-seated");
  expect_error("[[surface]]\nmaterial = \"limestone\"\narea = -3\n", 20, "area");
  expect_error("[material.x]\nabsorption = [0.1, 0.2]\nsource = \"x\"\n", 19, "six numbers");
  expect_error("[material.x]\nabsorption = [1, 1, 1, 1, 1, 9]\nsource = \"x\"\n", 19, "1.5");
  expect_error("[material.x]\nabsorption = [1, 1, 1, 1, 1, 1]\n", 18, "source");
}

TEST(ChurchFile, MissingPartsAreAskedFor) {
  EXPECT_NE(to_string(error_of("")).find("volume"), std::string::npos);
  EXPECT_NE(to_string(error_of("volume = 100\nsurface = []\npews = []\n")).find("surface"),
            std::string::npos);
  EXPECT_NE(to_string(error_of("volume = 3 m3\n")).find("x.church.toml:1"), std::string::npos);
  EXPECT_FALSE(read_church("no-such.church.toml").ok());
}

}  // namespace
}  // namespace loftbeat::room
