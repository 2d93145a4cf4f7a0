// `loftbeat history` as it is called, over practices that `listen` has kept.

#include <filesystem>
#include <string>

#include <gtest/gtest.h>

#include "app/endings.h"
#include "base/file.h"
#include "program.h"

namespace loftbeat::app {
namespace {

namespace fs = std::filesystem;

const std::string kParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/";

// Two practices of one hymn, one of another, one under clicks, one that is broken.
std::string practices() {
  const std::string sessions = scratch("history");
  fs::remove_all(sessions);
  for (const char* tune : {"azmon", "azmon", "old-hundredth", "azmon"}) {
    const std::string words = "listen '" + kParish + tune + ".plan.toml' --replay '" + kParish +
                              tune + ".mid' --speed 0 --sessions '" + sessions + "' </dev/null";
    EXPECT_EQ(run(words, "NO_COLOR=1").code, 0);
  }
  int number = 0;
  for (const auto& folder : fs::directory_iterator(sessions)) {
    if (folder.path().string().find("thousand") == std::string::npos || number++ > 0) continue;
    EXPECT_TRUE(write_file(folder.path().string() + "/practice.toml", "click = \"always\"\n").ok());
  }
  fs::create_directory(sessions + "/2026-01-01-1200-broken");
  EXPECT_TRUE(write_file(sessions + "/2026-01-01-1200-broken/practice.plan.toml", "nonsense").ok());
  return sessions;
}

Ending history(const std::string& arguments) {
  return run("history " + arguments + " </dev/null", "NO_COLOR=1 COLUMNS=100");
}

TEST(HistoryCommand, TellsEachTuneAndWhatIsLeftOut) {
  const std::string sessions = practices();
  const Ending all = history("--sessions '" + sessions + "'");
  ASSERT_EQ(all.code, kReviewed) << all.errors;
  EXPECT_NE(all.output.find("O for a thousand"), std::string::npos) << all.output;
  EXPECT_NE(all.output.find("All people"), std::string::npos);
  EXPECT_NE(all.output.find("since a click sounded: 1 practice"), std::string::npos) << all.output;
  EXPECT_NE(all.output.find("2026-01-01-1200-broken"), std::string::npos);
  // By the score's name.
  const Ending one = history("azmon --sessions '" + sessions + "'");
  ASSERT_EQ(one.code, kReviewed) << one.errors;
  EXPECT_EQ(one.output.find("All people"), std::string::npos);
  EXPECT_NE(one.output.find("Joins over the last practices: ██"), std::string::npos) << one.output;
  const std::string page = sessions + "/history.html";
  EXPECT_EQ(history("--sessions '" + sessions + "' --page '" + page + "'").code, kReviewed);
  EXPECT_TRUE(fs::exists(page));
  const Ending sunday =
      history("--sessions '" + sessions + "' --service '" + kParish + "advent.service.toml'");
  ASSERT_EQ(sunday.code, kReviewed) << sunday.errors;
  // The hymn of the evening was never practised here.
  EXPECT_NE(sunday.output.find(" 1. 2 Now the lamps are lit at even: not practised yet."),
            std::string::npos)
      << sunday.output;
}

TEST(HistoryCommand, AHymnOfTheServiceThatCannotBeReadHidesNoOther) {
  const std::string sessions = practices();
  const std::string service = sessions + "/sunday.service.toml";
  ASSERT_TRUE(write_file(service,
                         "title = \"Sunday\"\ndate = \"2026-11-29\"\n"
                         "[[hymn]]\nplan = \"nowhere.plan.toml\"\n"
                         "[[hymn]]\nplan = \"" +
                             kParish + "evening.plan.toml\"\n")
                  .ok());
  const Ending sunday = history("--sessions '" + sessions + "' --service '" + service + "'");
  ASSERT_EQ(sunday.code, kReviewed) << sunday.errors;
  EXPECT_NE(sunday.output.find("Now the lamps are lit at even"), std::string::npos);
  EXPECT_NE(sunday.output.find("Left out: "), std::string::npos) << sunday.output;
  EXPECT_NE(sunday.output.find("nowhere.plan.toml"), std::string::npos) << sunday.output;
}

// One that is being played just now has a journal and no take yet.
TEST(HistoryCommand, PassesOverAPracticeThatIsNotOver) {
  const std::string sessions = practices();
  const std::string folder = sessions + "/2026-01-02-1200-now";
  fs::create_directory(folder);
  ASSERT_TRUE(write_file(folder + "/practice.plan.toml", "score = \"x.musicxml\"\n").ok());
  ASSERT_TRUE(write_file(folder + "/take.journal", "").ok());
  const Ending all = history("--sessions '" + sessions + "'");
  ASSERT_EQ(all.code, kReviewed) << all.errors;
  EXPECT_EQ(all.output.find("2026-01-02-1200-now"), std::string::npos) << all.output;
}

TEST(HistoryCommand, SaysWhatIsWrong) {
  const Ending nowhere = history("--sessions /nowhere");
  EXPECT_EQ(nowhere.code, kUnreadable);
  EXPECT_NE(nowhere.errors.find("/nowhere"), std::string::npos);
  const std::string sessions = practices();
  const Ending unknown = history("azmom --sessions '" + sessions + "'");
  EXPECT_EQ(unknown.code, kWrongUse);
  EXPECT_NE(unknown.errors.find("azmom"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::app
