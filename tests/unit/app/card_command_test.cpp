// `loftbeat card` as it is called, on the demo parish.

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

Ending card(const std::string& arguments) { return run("card " + arguments, "NO_COLOR=1"); }

TEST(CardCommand, WritesEveryKindByTheNamesEnding) {
  for (const auto& [ending, begin] : {std::pair{".html", "<!DOCTYPE html>"},
                                      std::pair{".svg", "<?xml"}, std::pair{".pdf", "%PDF-"}}) {
    const std::string path = scratch(std::string("card") + ending);
    std::remove(path.c_str());
    const Ending done = card(kEvening + " --to '" + path + "'");
    EXPECT_EQ(done.code, 0) << done.errors;
    EXPECT_TRUE(done.errors.empty()) << done.errors;
    EXPECT_EQ(read_file(path).value().rfind(begin, 0), 0u) << ending;
  }
  const Ending shown = card(kEvening + " --to -");
  EXPECT_EQ(shown.code, 0);
  EXPECT_NE(shown.output.find("THUMB: piston Great 3"), std::string::npos) << shown.output;
  EXPECT_NE(shown.output.find("thumb on Great 3"), std::string::npos);
}

TEST(CardCommand, AServiceHasACardForEachHymnInOrder) {
  const Ending done = card("'" + kParish + "advent.service.toml' --to -");
  ASSERT_EQ(done.code, 0) << done.errors;
  const auto first = done.output.find("All people that on earth");
  const auto second = done.output.find("Now the lamps are lit");
  EXPECT_LT(first, second);
  EXPECT_NE(second, std::string::npos);
  EXPECT_NE(done.output.find("Before: "), std::string::npos);
}

TEST(CardCommand, WithoutAnOrganThereIsStillTempoAndJoin) {
  const std::string path = scratch("bare.plan.toml");
  ASSERT_TRUE(write_file(path, "score = \"" + kParish +
                                   "evening.musicxml\"\ntempo = 76\nverses = 2\njoin = \"4+2\"\n")
                  .ok());
  const Ending done = card("'" + path + "' --to -");
  EXPECT_EQ(done.code, 0) << done.errors;
  EXPECT_NE(done.output.find("76 a minute"), std::string::npos) << done.output;
  EXPECT_NE(done.output.find("hold 4, lift 2"), std::string::npos) << done.output;
}

TEST(CardCommand, TakesAPlayersTimesAndATypedOrgan) {
  const std::string player = scratch("card.player.toml");
  ASSERT_TRUE(write_file(player, "# nothing learned yet\n").ok());
  const std::string path = scratch("player-card.svg");
  const Ending done = card(kEvening + " --to '" + path + "' --player '" + player + "'");
  EXPECT_EQ(done.code, 0) << done.errors;
  EXPECT_NE(done.output.find("seen too few movements"), std::string::npos) << done.output;
  EXPECT_NE(card(kEvening + " --to '" + path + "' --player '" + player + ".no'").code, 0);
  const std::string plan = scratch("typed.plan.toml");
  ASSERT_TRUE(write_file(plan, "score = \"" + kParish +
                                   "evening.musicxml\"\ntempo = 76\nverses = 2\njoin = \"4+2\"\n"
                                   "stops = [\"Flute 8\"]\n[verse.2]\nstops = [\"Flute 8\", "
                                   "\"Octave 4\"]\n")
                  .ok());
  const Ending typed = card("'" + plan + "' --to - --stop-list 'Great: Flute 8, Octave 4'");
  EXPECT_EQ(typed.code, 0) << typed.errors;
  EXPECT_NE(typed.output.find("RIGHT: draw Great Octave 4"), std::string::npos) << typed.output;
}

TEST(CardCommand, SaysWhatIsWrongInOneLine) {
  EXPECT_EQ(card("").code, kWrongUse);
  EXPECT_EQ(card(kEvening).code, kWrongUse);
  EXPECT_EQ(card(kEvening + " --to card.docx").code, kWrongUse);
  EXPECT_EQ(card("nowhere.plan.toml --to -").code, kUnreadable);
  EXPECT_EQ(card(kEvening + " --to /nowhere/at/all/card.pdf").code, kFailed);
}

}  // namespace
}  // namespace loftbeat::app
