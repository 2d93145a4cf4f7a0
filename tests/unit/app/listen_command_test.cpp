// `loftbeat listen` as it is called, with a recorded take instead of a keyboard.

#include <unistd.h>

#include <filesystem>
#include <string>

#include <gtest/gtest.h>

#include "app/listen_source.h"
#include "app/endings.h"
#include "base/file.h"
#include "program.h"
#include "take/journal.h"

namespace loftbeat::app {
namespace {

namespace fs = std::filesystem;

const std::string kDemo = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/demo";

std::string fresh_sessions() {
  const std::string folder = scratch("sessions");
  fs::remove_all(folder);
  return folder;
}

Ending listen(const std::string& arguments) {
  return run("listen " + arguments + " </dev/null", "NO_COLOR=1 COLUMNS=100");
}

std::string from_take(const std::string& sessions) {
  return "'" + kDemo + ".plan.toml' --replay '" + kDemo + ".mid' --speed 0 --sessions '" +
         sessions + "'";
}

// All but the lines that name the take.
std::string without_names(std::string text) {
  for (const char* name : {"demo.mid", "take.mid"}) {
    for (auto at = text.find(name); at != std::string::npos; at = text.find(name))
      text.replace(at, std::string(name).size(), "*");
  }
  return text;
}

TEST(ListenCommand, GivesTheSameReviewAsTheFile) {
  const std::string sessions = fresh_sessions();
  const Ending heard = listen(from_take(sessions));
  ASSERT_EQ(heard.code, 0) << heard.errors;
  const Ending read =
      run("review '" + kDemo + ".plan.toml' '" + kDemo + ".mid'", "NO_COLOR=1 COLUMNS=100");
  ASSERT_EQ(read.code, 0);
  const auto review = heard.output.find("Now the lamps");
  ASSERT_NE(review, std::string::npos) << heard.output;
  EXPECT_EQ(without_names(heard.output.substr(review)), without_names(read.output));
  int files = 0;
  for (const auto& folder : fs::directory_iterator(sessions)) {
    for (const char* name : {"practice.plan.toml", "take.mid", "review.json"})
      files += fs::exists(folder.path() / name) ? 1 : 0;
    EXPECT_FALSE(fs::exists(folder.path() / "take.journal"));
  }
  EXPECT_EQ(files, 3);
}

TEST(ListenCommand, RecoversWhatACrashLeftAndSaysSo) {
  const std::string sessions = fresh_sessions();
  fs::create_directories(sessions + "/2026-11-28-0900-lamps");
  {
    auto journal = take::JournalWriter::create(sessions + "/2026-11-28-0900-lamps/take.journal");
    ASSERT_TRUE(journal.ok());
    take::Event event;
    event.data1 = 60;
    event.data2 = 64;
    EXPECT_TRUE(journal->append(event));
    ASSERT_TRUE(journal->sync().ok());
  }
  const Ending heard = listen(from_take(sessions));
  EXPECT_EQ(heard.code, 0) << heard.errors;
  EXPECT_NE(heard.output.find("1 event recovered"), std::string::npos) << heard.output;
  EXPECT_TRUE(fs::exists(sessions + "/2026-11-28-0900-lamps/take.mid"));
}

TEST(ListenCommand, ALossIsToldOnceWithItsCount) {
  EXPECT_EQ(loss_words(0, 0), "");
  EXPECT_NE(loss_words(12, 0).find("12 messages came too fast and were lost"), std::string::npos);
  EXPECT_EQ(loss_words(12, 12), "");
  EXPECT_NE(loss_words(15, 12).find("15 messages"), std::string::npos);
}

TEST(ListenCommand, SaysWhatIsWrongBeforeAnythingIsPlayed) {
  const std::string sessions = fresh_sessions();
  EXPECT_EQ(listen("").code, kWrongUse);
  EXPECT_EQ(listen("nowhere.plan.toml --sessions '" + sessions + "'").code, kUnreadable);
  EXPECT_EQ(listen("'" + kDemo + ".plan.toml' --speed 200").code, kWrongUse);
  EXPECT_EQ(listen("'" + kDemo + ".plan.toml' --replay x.mid --input y").code, kWrongUse);
  EXPECT_EQ(listen(from_take("/proc/nowhere")).code, kFailed);
  // No MIDI input: a sentence, and no folder is left behind.
  const Ending none = run("listen '" + kDemo + ".plan.toml' --sessions '" + sessions + "'",
                          "JACK_NO_START_SERVER=1 JACK_DEFAULT_SERVER=loftbeat-none");
  if (none.code != 0) {
    EXPECT_NE(none.errors.find("MIDI input"), std::string::npos) << none.errors;
  }
  EXPECT_FALSE(fs::exists(sessions));
}

}  // namespace
}  // namespace loftbeat::app
