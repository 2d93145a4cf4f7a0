// `loftbeat plan` as it is called, on the demo parish.

#include <string>

#include <gtest/gtest.h>

#include "app/endings.h"
#include "app/options.h"
#include "base/file.h"
#include "program.h"

namespace loftbeat::app {
namespace {

const std::string kParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/";

Ending check(const std::string& arguments) {
  return run("plan " + arguments, "NO_COLOR=1 COLUMNS=100");
}

TEST(PlanCommand, TellsTheMoveAtEveryJoin) {
  const Ending ending = check("'" + kParish + "evening.plan.toml'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  for (const char* words : {"before verse 1:", "before verse 2:", "thumb piston Great 3",
                            "before verse 3:", "What stands against it"}) {
    EXPECT_NE(ending.output.find(words), std::string::npos) << words << ending.output;
  }
}

// Verse 3 of the demo draws a coupler, stops on both jambs, and pushes others in.
TEST(PlanCommand, FindsThatNobodyCanDoIt) {
  const Ending ending = check("'" + kParish + "evening.plan.toml'");
  EXPECT_NE(ending.output.find("Before verse 3:"), std::string::npos) << ending.output;
}

TEST(PlanCommand, WithoutAnOrganOnlyTheTuneIsLookedAt) {
  const std::string path = scratch("bare.plan.toml");
  ASSERT_TRUE(
      write_file(path, "score = \"" + kParish + "evening.musicxml\"\ntempo = 76\nverses = 2\n")
          .ok());
  const Ending ending = check("'" + path + "'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("No organ is named"), std::string::npos) << ending.output;
}

TEST(PlanCommand, GoesThroughTheHymnsOfAService) {
  const Ending ending = check("'" + kParish + "advent.service.toml'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  const auto first = ending.output.find("All people that on earth do dwell");
  const auto between = ending.output.find("Before the next hymn:");
  const auto second = ending.output.find("Now the lamps are lit at even");
  EXPECT_LT(first, between);
  EXPECT_LT(between, second);
  EXPECT_NE(second, std::string::npos);
}

TEST(PlanCommand, SaysWhatIsWrongInOneLine) {
  EXPECT_EQ(check("").code, kWrongUse);
  EXPECT_EQ(check("nowhere.plan.toml").code, kUnreadable);
  EXPECT_EQ(check("nowhere.service.toml").code, kUnreadable);
  EXPECT_EQ(check("a b").code, kWrongUse);
  const std::string path = scratch("week.service.toml");
  ASSERT_TRUE(write_file(path, "title = \"x\"\n[[hymn]]\nplan = \"gone.plan.toml\"\n").ok());
  const Ending ending = check("'" + path + "'");
  EXPECT_EQ(ending.code, kUnreadable);
  EXPECT_NE(ending.errors.find("gone.plan.toml"), std::string::npos) << ending.errors;
}

}  // namespace
}  // namespace loftbeat::app
