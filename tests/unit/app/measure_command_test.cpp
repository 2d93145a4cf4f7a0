// `loftbeat sound PLAN --measure` as it is called, on the demo parish.

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "program.h"

namespace loftbeat::app {
namespace {

const std::string kParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/";

Ending measure(const std::string& arguments) {
  return run("sound " + arguments, "NO_COLOR=1 COLUMNS=100");
}

std::string plan(const std::string& name) {
  return "'" + kParish + name + ".plan.toml' --measure ";
}

TEST(MeasureCommand, TellsEveryPassOfThePlan) {
  const Ending ending = measure(plan("evening"));
  EXPECT_EQ(ending.code, 0) << ending.errors;
  for (const char* pass : {"play-over", "verse 1", "verse 2", "verse 3"}) {
    EXPECT_NE(ending.output.find(pass), std::string::npos) << pass;
  }
  EXPECT_NE(ending.output.find("Great Mixture III"), std::string::npos);
}

TEST(MeasureCommand, AnUnaccompaniedVerseIsNotMeasured) {
  const Ending ending = measure(plan("azmon"));
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("Verse 3: nothing is played."), std::string::npos) << ending.output;
}

TEST(MeasureCommand, WritesJsonAndPage) {
  const std::string page = scratch("page.html");
  const Ending ending = measure(plan("evening") + "--pass 2 --json - --page '" + page + "'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_EQ(ending.output.find("{\"format\":\"loftbeat-measures\""), 0U);
  EXPECT_EQ(ending.output.find("\"label\":\"1\""), std::string::npos);
  EXPECT_NE(ending.output.find("\"label\":\"2\""), std::string::npos);
  EXPECT_NE(read_file(page).value().find("<h2 id=\"pass0\">verse 2</h2>"), std::string::npos);
}

TEST(MeasureCommand, StopsOfTheCommandLineGoBeforeThePlans) {
  const Ending ending =
      measure(plan("evening") + "--pass 1 --people 40 --stops 'Great Dulciana, Great Flute 4'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("40 people"), std::string::npos);
  EXPECT_NE(ending.output.find("Great Dulciana 8, Great Flute 4"), std::string::npos);
}

TEST(MeasureCommand, RefusesWhatMakesNoSense) {
  EXPECT_EQ(measure(plan("evening") + "--dry").code, 2);
  EXPECT_EQ(measure(plan("evening") + "--people 0").code, 2);
  EXPECT_EQ(measure(plan("evening") + "--json - --page -").code, 2);
  EXPECT_EQ(measure("--measure --chord 'C4 E4'").code, 2);
  const Ending stop = measure(plan("evening") + "--stops 'Great Princpal'");
  EXPECT_EQ(stop.code, 4);
  EXPECT_NE(stop.errors.find("Great Principal 4"), std::string::npos) << stop.errors;
}

}  // namespace
}  // namespace loftbeat::app
