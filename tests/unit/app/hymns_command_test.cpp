// `loftbeat hymns` and `loftbeat export` as they are called, on the demo parish.

#include <filesystem>
#include <string>

#include <gtest/gtest.h>

#include "app/endings.h"
#include "base/file.h"
#include "music/read.h"
#include "program.h"

namespace loftbeat::app {
namespace {

const std::string kHymnParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham";

Ending hymns(const std::string& arguments) {
  return run("hymns " + arguments,
             "NO_COLOR=1 COLUMNS=100 XDG_CACHE_HOME='" + scratch("cache") + "'");
}
Ending parish_hymns(const std::string& arguments) {
  return hymns("'" + kHymnParish + "' " + arguments);
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(HymnsCommand, ListsTheHymnsOfAFolder) {
  const Ending done = parish_hymns("");
  ASSERT_EQ(done.code, kReviewed) << done.errors;
  EXPECT_TRUE(has(done.output, "Old Hundredth")) << done.output;
  EXPECT_TRUE(has(done.output, "8.6.8.6 (C.M.)"));
  EXPECT_TRUE(has(done.output, "3 hymns in "));
  EXPECT_TRUE(has(done.output, "2 MIDI files are recorded playing"));
  // The second time from the kept index, word for word the same.
  EXPECT_EQ(parish_hymns("").output, done.output);
  EXPECT_EQ(parish_hymns("--afresh").output, done.output);
}

TEST(HymnsCommand, FindsByWordsAndByMetre) {
  const Ending words = parish_hymns("LAMPS even");
  EXPECT_TRUE(has(words.output, "1 hymn of 3")) << words.output;
  EXPECT_TRUE(has(words.output, "Quaverham"));
  const Ending metre = parish_hymns("--metre L.M.");
  EXPECT_TRUE(has(metre.output, "1 hymn of 3")) << metre.output;
  EXPECT_TRUE(has(metre.output, "Old Hundredth"));
  EXPECT_EQ(parish_hymns("--metre quick").code, kWrongUse);
}

TEST(HymnsCommand, ListsTheTunesOfOneFile) {
  const Ending done =
      hymns("'" LOFTBEAT_SOURCE_DIR "/tests/reference/abc/tunes/book.abc' --json -");
  ASSERT_EQ(done.code, kReviewed) << done.errors;
  EXPECT_TRUE(has(done.output, "\"file\":\"book.abc#")) << done.output;
}

TEST(HymnsCommand, NamesATuneThatIsPlayed) {
  const Ending done = parish_hymns("--take '" + kHymnParish + "/azmon.mid'");
  EXPECT_EQ(done.code, kReviewed) << done.errors;
  EXPECT_TRUE(has(done.output, "This is O for a thousand tongues to sing")) << done.output;
  const Ending json = parish_hymns("--take '" + kHymnParish + "/old-hundredth.mid' --json -");
  EXPECT_TRUE(has(json.output, "\"matches\"")) << json.output;
}

// A line of four seconds, as it comes from a keyboard.
TEST(HymnsCommand, NamesATuneWhileItIsPlayed) {
  std::string take = "X:1\nT:Line\nM:3/4\nL:1/4\nQ:1/4=240\nK:Bb\nF|B>Bc|cd>c|BcB|c2|\n";
  const std::string abc = scratch("line.abc");
  const std::string midi = scratch("line.mid");
  ASSERT_TRUE(write_file(abc, take).ok());
  ASSERT_EQ(run("export '" + abc + "' --to '" + midi + "'").code, kReviewed);
  const Ending done = parish_hymns("--play --replay '" + midi + "'");
  EXPECT_EQ(done.code, kReviewed) << done.errors;
  EXPECT_TRUE(has(done.output, "O for a thousand tongues")) << done.output;
  EXPECT_TRUE(has(done.output, "3 semitones above")) << done.output;
}

TEST(HymnsCommand, WritesJson) {
  const Ending done = parish_hymns("--json -");
  ASSERT_EQ(done.code, kReviewed);
  for (const char* part : {"\"loftbeat_hymns\":1", "\"tune\":\"Azmon\"", "\"lines\":[8,6,8,6]",
                           "\"source\":\"counted\"", "\"recorded_playing\":true"})
    EXPECT_TRUE(has(done.output, part)) << part;
}

TEST(HymnsCommand, SaysWhatIsWrongInOneLine) {
  EXPECT_EQ(hymns("").code, kWrongUse);
  EXPECT_EQ(hymns("/nowhere/at/all").code, kUnreadable);
  EXPECT_EQ(parish_hymns("--play --take x.mid").code, kWrongUse);
  EXPECT_EQ(parish_hymns("--input Great").code, kWrongUse);
  EXPECT_EQ(parish_hymns("--take nowhere.mid").code, kUnreadable);
}

TEST(ExportCommand, WritesWhatIsReadBack) {
  const std::string score = kHymnParish + "/azmon.musicxml";
  const auto original = music::read_score(score);
  ASSERT_TRUE(original.ok());
  for (const char* ending : {".musicxml", ".mid"}) {
    const std::string path = scratch(std::string("azmon") + ending);
    const Ending done = run("export '" + score + "' --to '" + path + "'");
    ASSERT_EQ(done.code, kReviewed) << done.errors;
    const auto back = music::read_score(path);
    ASSERT_TRUE(back) << to_string(back.error());
    EXPECT_EQ(back->score.notes.size(), original->score.notes.size());
    EXPECT_EQ(back->score.tune, "Azmon");
    EXPECT_EQ(has(done.errors, "the words of all verses but the first"),
              std::string(ending) == ".mid")
        << done.errors;
  }
  const Ending shown =
      run("export '" LOFTBEAT_SOURCE_DIR "/tests/reference/abc/tunes/book.abc' --to -");
  EXPECT_EQ(shown.output.rfind("<?xml", 0), 0u);
}

TEST(ExportCommand, SaysWhatIsWrongInOneLine) {
  const std::string score = "'" + kHymnParish + "/azmon.musicxml'";
  EXPECT_EQ(run("export").code, kWrongUse);
  EXPECT_EQ(run("export " + score).code, kWrongUse);
  EXPECT_EQ(run("export " + score + " --to hymn.pdf").code, kWrongUse);
  EXPECT_EQ(run("export " + score + " --to " + score).code, kWrongUse);
  EXPECT_EQ(run("export nowhere.abc --to x.mid").code, kUnreadable);
  EXPECT_EQ(run("export " + score + " --to /nowhere/at/all/x.mid").code, kFailed);
}

}  // namespace
}  // namespace loftbeat::app
