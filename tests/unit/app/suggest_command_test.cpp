// `loftbeat plan --suggest` as it is called, on the demo parish.

#include <cstdio>
#include <string>

#include <gtest/gtest.h>

#include "app/endings.h"
#include "base/file.h"
#include "program.h"

namespace loftbeat::app {
namespace {

const std::string kParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/";
const std::string kEvening = "'" + kParish + "evening.plan.toml'";

Ending plan(const std::string& arguments) {
  return run("plan " + arguments, "NO_COLOR=1 COLUMNS=100");
}

// A plan of the demo parish with these lines besides; its path, quoted.
std::string plan_file(const std::string& lines, const std::string& organ = "quaverham") {
  const std::string path = scratch("wish.plan.toml");
  const std::string text = "score = \"" + kParish + "evening.musicxml\"\ntempo = 76\n" +
                           "verses = 3\njoin = \"4+2\"\norgan = \"" + kParish + organ +
                           ".organ.toml\"\n" + lines;
  EXPECT_TRUE(write_file(path, text).ok());
  return "'" + path + "'";
}
std::string church() { return "church = \"" + kParish + "quaverham.church.toml\"\n"; }

TEST(SuggestCommand, TellsWhatToDraw) {
  const Ending ending = plan(kEvening + " --suggest");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  for (const char* words : {"what to draw", "1. evenly weighed", "play-over:", "verse 3",
                            "wished as the plan has it", "120 people"}) {
    EXPECT_NE(ending.output.find(words), std::string::npos) << words << ending.output;
  }
}

TEST(SuggestCommand, WritesAPlanThatStandsTheCheck) {
  const std::string path = scratch("chosen.plan.toml");
  std::remove(path.c_str());
  // The chapel's five stops: quick under the sanitizers, too.
  const std::string asked =
      plan_file("church = \"" + kParish + "crotchet-cross.church.toml\"\nwish = \"quiet\"\n" +
                    "[verse.3]\nwish = \"full\"\n",
                "crotchet-cross") +
      " --suggest --to '" + path + "'";
  const Ending ending = plan(asked);
  ASSERT_EQ(ending.code, 0) << ending.errors;
  const Ending check = plan("'" + path + "'");
  EXPECT_EQ(check.code, 0) << check.errors;
  EXPECT_NE(check.output.find("What stands against it\n  Nothing."), std::string::npos)
      << check.output;
  // A file that is there stays as it is.
  const std::string before = read_file(path).value();
  EXPECT_EQ(plan(asked).code, kWrongUse);
  EXPECT_EQ(read_file(path).value(), before);
}

// The organ typed in place of a file: checked, suggested for, and told what was assumed.
TEST(SuggestCommand, TakesAnOrganOfOneLine) {
  const std::string list =
      " --stop-list 'Great: Open Diapason 8, Principal 4, Gemshorn 2; Pedal: Bourdon 16; "
      "Couplers: Great to Pedal'";
  const std::string plain_plan =
      plan_file(church() + "stops = [\"Open Diapason 8\", \"Bourdon 16\"]\n");
  const Ending check = plan(plain_plan + list);
  EXPECT_EQ(check.code, 0) << check.errors;
  EXPECT_NE(check.output.find("Great Open Diapason 8, Pedal Bourdon 16"), std::string::npos)
      << check.output;
  EXPECT_NE(check.output.find("Gemshorn 2 is taken as principal"), std::string::npos)
      << check.output;
  const Ending suggested = plan(plain_plan + list + " --suggest");
  EXPECT_EQ(suggested.code, 0) << suggested.errors;
  EXPECT_NE(suggested.output.find("What is assumed of this organ"), std::string::npos)
      << suggested.output;
  // A stop that the list lacks is the plan's mistake; a wrong list is the line's.
  const Ending lacks = plan(plan_file(church() + "stops = [\"Open Diapason 4\"]\n") + list);
  EXPECT_NE(lacks.errors.find(".plan.toml:7"), std::string::npos) << lacks.errors;
  const Ending wrong = plan(plain_plan + " --stop-list 'Great: Pricnipal 8'");
  EXPECT_NE(wrong.code, 0);
  EXPECT_NE(wrong.errors.find("--stop-list:1:8: "), std::string::npos) << wrong.errors;
  EXPECT_EQ(plan(plain_plan + list + " --organ x.organ.toml").code, kWrongUse);
}

// The lines of the plan that plan_file makes begin with the seventh.
TEST(SuggestCommand, RefusesWishesThatNothingComesNear) {
  const Ending all = plan(plan_file(church() + "wish = { sharpness = 9 }\n") + " --suggest");
  EXPECT_EQ(all.code, kNoFit);
  for (const char* words : {".plan.toml:7: In the play-over, a sharpness of 9 acum is wished",
                            "reaches ", "0.1 acum", "\"bright\""})
    EXPECT_NE(all.errors.find(words), std::string::npos) << words << all.errors;
  const Ending one = plan(
      plan_file(church() + "wish = \"plain\"\n[verse.2]\nwish = { lead = 900 }\n") + " --suggest");
  EXPECT_EQ(one.code, kNoFit);
  EXPECT_NE(one.errors.find(".plan.toml:9: In verse 2, a lead of 900 sone"), std::string::npos)
      << one.errors;
  const Ending fair = plan(plan_file(church() + "wish = { sharpness = 1.3 }\n") + " --suggest");
  EXPECT_EQ(fair.code, 0) << fair.errors;
}

TEST(SuggestCommand, KeepsToWhatIsHeldAndBarred) {
  const Ending ending =
      plan(plan_file(church() + "wish = \"bright\"\nhold-stops = [\"Great Open Diapason 8\"]"
                                "\nnot-stops = [\"Great Mixture III\"]\n") +
           " --suggest");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_EQ(ending.output.find("Mixture"), std::string::npos) << ending.output;
  EXPECT_NE(ending.output.find("Great Open Diapason 8"), std::string::npos) << ending.output;
}

TEST(SuggestCommand, SaysWhichLineCannotBeMet) {
  Ending ending =
      plan(plan_file(church() + "hold-stops = [\"Great Open Diapsaon 8\"]\n") + " --suggest");
  EXPECT_NE(ending.code, 0);
  EXPECT_NE(ending.errors.find(".plan.toml:7"), std::string::npos) << ending.errors;
  EXPECT_NE(ending.errors.find("Great Open Diapason 8"), std::string::npos) << ending.errors;
  ending = plan(plan_file(church() +
                          "hold-stops = [\"Great Principal 4\"]\nnot-stops = [\"Great Principal"
                          " 4\"]\n") +
                " --suggest");
  EXPECT_EQ(ending.code, kNoFit);
  EXPECT_NE(ending.errors.find(".plan.toml:8"), std::string::npos) << ending.errors;
}

TEST(SuggestCommand, AsksForWhatItCannotDoWithout) {
  EXPECT_EQ(plan(plan_file("") + " --suggest").code, kWrongUse);  // no church
  EXPECT_EQ(plan(plan_file(church()) + " --suggest --people 0").code, kWrongUse);
  EXPECT_EQ(plan("'" + kParish + "advent.service.toml' --suggest").code, kWrongUse);
  EXPECT_EQ(plan(kEvening + " --to x.plan.toml").code, kWrongUse);
  EXPECT_EQ(plan(kEvening + " --choice 2").code, kWrongUse);
  EXPECT_EQ(plan(kEvening + " --suggest --choice 2").code, kWrongUse);
}

}  // namespace
}  // namespace loftbeat::app
