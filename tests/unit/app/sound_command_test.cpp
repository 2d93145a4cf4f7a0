// `loftbeat sound` as it is called: what it writes, and what it says when it cannot.

#include <cstdio>
#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "app/options.h"
#include "app/sound_options.h"
#include "base/file.h"
#include "program.h"

namespace loftbeat::app {
namespace {

const std::string kParish = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/";
const std::string kOrgan = "--organ '" + kParish + "quaverham.organ.toml' ";

Ending sound(const std::string& arguments) { return run("sound " + arguments); }

TEST(SoundCommand, WritesAChordAndSaysHowLoudItIs) {
  const std::string file = scratch("chord.wav");
  const Ending ending = sound(
      kOrgan +
      "--stops 'Great Open Diapason 8, Great Principal 4' --chord 'C4 E4 G4' --seconds 0.5 --to '" +
      file + "'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("dB of full scale"), std::string::npos) << ending.output;
  EXPECT_TRUE(ending.errors.empty()) << ending.errors;  // nobody watches: no progress bar
  const std::string wav = read_file(file).value();
  EXPECT_EQ(wav.substr(0, 4), "RIFF");
  EXPECT_GT(wav.size(), 48'000U / 2 * 6);
  std::remove(file.c_str());
}

TEST(SoundCommand, PlaysPartOfAPlanAndATake) {
  const std::string file = scratch("part.flac");
  const Ending plan =
      sound("'" + kParish + "old-hundredth.plan.toml' --dry --pass 1 --bar 11 --tempo 240 --to '" +
            file + "'");
  EXPECT_EQ(plan.code, 0) << plan.errors;
  EXPECT_EQ(read_file(file).value().substr(0, 4), "fLaC");
  const Ending take = sound("'" + kParish + "old-hundredth.plan.toml' --take '" + kParish +
                            "old-hundredth.mid' --dry --from 80000 --to '" + file + "'");
  EXPECT_EQ(take.code, 2) << take.errors;  // it is shorter
  EXPECT_NE(take.errors.find("behind the end"), std::string::npos) << take.errors;
  std::remove(file.c_str());
}

TEST(SoundCommand, SaysWhatIsWrongInOneLine) {
  const auto told = [](const std::string& arguments, int code, const std::string& sentence) {
    const Ending ending = sound(arguments + " --to /nowhere.wav");
    EXPECT_EQ(ending.code, code) << arguments << ending.errors;
    EXPECT_NE(ending.errors.find(sentence), std::string::npos) << arguments << ending.errors;
    EXPECT_TRUE(ending.output.empty());
  };
  const std::string plan = "'" + kParish + "old-hundredth.plan.toml' ";
  told("", kWrongUse, "nothing is named");
  told("--chord C4", kWrongUse, "no organ is named");
  told(kOrgan + "--chord C4", kWrongUse, "no stop is drawn");
  told(kOrgan + "--chord C4 --stops 'Great Open Diapasen 8'", kNoFit, "Great Open Diapason 8");
  told(kOrgan + "--chord H4 --stops 'Great Principal 4'", kWrongUse, "no key");
  told(plan + "--pass 9", kWrongUse, "play-over");
  told(plan + "--bar 99", kWrongUse, "no bar 99");
  told(plan + "--loop 99", kWrongUse, "--loop");
  told(plan + "--take x.mid --pass 1", kWrongUse, "go with a plan");
  told("nowhere.plan.toml", kUnreadable, "nowhere.plan.toml");
  told(plan + "--swell 7", kWrongUse, "--swell");
  told(plan + "--from yesterday", kWrongUse, "yesterday");
}

TEST(SoundOptions, TimesAreReadAsMinutesAndSeconds) {
  EXPECT_EQ(seconds_from_text("42"), 42);
  EXPECT_EQ(seconds_from_text("1:05.5"), 65.5);
  EXPECT_EQ(seconds_from_text("0:00"), 0);
  for (const char* odd :
       {"", ":", "1:", ":5", "1:60", "-1", "nan", "inf", "1:2:3", "99999999", "4 2"})
    EXPECT_FALSE(seconds_from_text(odd).has_value()) << odd;
}

TEST(SoundOptions, AnOrderIsReadFromTheWords) {
  const Invocation read =
      read_command_line({"sound", "a.plan.toml", "--pass", "play-over", "--people", "40", "--from",
                         "0:30", "--volume", "-6", "--to", "b.flac"});
  ASSERT_TRUE(read.sound.has_value()) << read.errors;
  EXPECT_FALSE(read.order.has_value());
  EXPECT_EQ(read.sound->plan_path, "a.plan.toml");
  EXPECT_EQ(read.sound->pass, "play-over");
  EXPECT_EQ(read.sound->people, 40);
  EXPECT_EQ(read.sound->from_seconds, 30);
  EXPECT_EQ(read.sound->volume_db, -6);
  const Invocation help = read_command_line({"sound", "--help"});
  EXPECT_NE(help.output.find("volume low"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::app
