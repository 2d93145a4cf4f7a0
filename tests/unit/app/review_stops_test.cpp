// `loftbeat review` tells what stops moved, on the demo parish: the demo take with stop messages of
// the organ laid into its joins.

#include <algorithm>
#include <cstdio>
#include <string>

#include <gtest/gtest.h>

#include "music/read.h"
#include "plan/read.h"
#include "practice/review.h"
#include "program.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

const std::string kSessions = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/";
const std::string kPlan = kSessions + "quaverham/evening.plan.toml";

take::Event control(Instant at, int controller, int value) {
  take::Event event;
  event.at = at;
  event.kind = take::EventKind::control;
  event.channel = 15;
  event.data1 = static_cast<std::uint8_t>(controller);
  event.data2 = static_cast<std::uint8_t>(value);
  return event;
}

// Great Fifteenth 2 drawn: nrpn 1030 of channel 16 (sessions/quaverham/quaverham.organ.toml).
void draw_fifteenth(take::Take& take, double at_s) {
  const Instant at = instant_from_seconds(at_s);
  for (const auto& event :
       {control(at, 99, 1030 / 128), control(at, 98, 1030 % 128), control(at, 6, 127)}) {
    const auto later = std::find_if(take.events.begin(), take.events.end(),
                                    [&](const take::Event& e) { return e.at > at; });
    take.events.insert(later, event);
  }
}

// The demo take with the Fifteenth drawn so many seconds after the release before verse 2. Written
// to a file, whose name is returned.
std::string take_with_move(double after_release_s) {
  auto take = take::read_take(kSessions + "demo.mid").value();
  const auto plan = plan::read_plan(kPlan).value();
  const auto review =
      practice::review(plan, music::read_score(plan.score_path).value(), take, "").value();
  for (const timing::JoinMeasures& join : review.timing.joins) {
    if (review.alignment.passes[static_cast<std::size_t>(join.after)].label != "2") continue;
    draw_fifteenth(take, join.release_s + after_release_s);
  }
  std::string path = scratch("moves.mid");
  EXPECT_TRUE(write_file(path, take::format_take(take)).ok());
  return path;
}

Ending review_of(const std::string& take_path, const std::string& more = "") {
  return run("review '" + kPlan + "' '" + take_path + "' " + more);
}

TEST(ReviewStops, AMoveInTheSilenceIsClean) {
  const Ending ending = review_of(take_with_move(0.2));
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("The stops at the joins"), std::string::npos);
  EXPECT_NE(ending.output.find("draws Great Fifteenth 2"), std::string::npos) << ending.output;
  EXPECT_NE(ending.output.find("clean"), std::string::npos);
  EXPECT_EQ(ending.output.find("were heard in it"), std::string::npos);
}

TEST(ReviewStops, AMoveInTheChordIsAFinding) {
  const Ending ending = review_of(take_with_move(-0.4), "--json -");
  EXPECT_NE(ending.output.find("\"verdict\":\"heard-in-the-chord\",\"fault\":true"),
            std::string::npos);
  EXPECT_NE(ending.output.find("stops-heard-in-the-chord"), std::string::npos);
}

TEST(ReviewStops, ThePageTellsThemToo) {
  const Ending ending = review_of(take_with_move(-0.4), "--page -");
  EXPECT_NE(ending.output.find("<h2 id=\"stops\">"), std::string::npos);
  EXPECT_NE(ending.output.find("heard in the chord"), std::string::npos);
}

TEST(ReviewStops, WithoutMessagesOrWithoutAnOrganOneSentenceSaysWhy) {
  const Ending silent = review_of(kSessions + "demo.mid");
  EXPECT_NE(silent.output.find("Stop moves are not judged: the take holds no message"),
            std::string::npos);
  const Ending no_organ = run("review --score '" + kSessions +
                              "quaverham/evening.musicxml' --tempo 76 '" + kSessions + "demo.mid'");
  EXPECT_NE(no_organ.output.find("Stop moves are not judged: the review was asked for without"),
            std::string::npos);
}

// The rest of the review does not hang on the organ file.
TEST(ReviewStops, AnOrganThatCannotBeReadIsSaid) {
  const std::string plan = scratch("lost.plan.toml");
  ASSERT_TRUE(write_file(plan, "score = \"" + kSessions +
                                   "quaverham/evening.musicxml\"\ntempo = 76\n"
                                   "organ = \"nowhere.organ.toml\"\n")
                  .ok());
  const Ending ending = run("review '" + plan + "' '" + kSessions + "demo.mid'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("the organ cannot be read"), std::string::npos);
}

// The hand reaches the Fifteenth in more than 0.2 s by the tables; 0.6 s after its last key.
TEST(ReviewPlayer, ATakeIsLearnedFromOnce) {
  const std::string player = scratch("player.toml");
  std::remove(player.c_str());
  const std::string take = take_with_move(0.6);
  const std::string option = "--player '" + player + "'";
  const Ending first = review_of(take, option);
  EXPECT_EQ(first.code, 0) << first.errors;
  EXPECT_NE(first.output.find("learned from this take"), std::string::npos) << first.output;
  const std::string written = read_file(player).value();
  EXPECT_NE(written.find("kind = \"draw\""), std::string::npos) << written;
  const Ending second = review_of(take, option);
  EXPECT_NE(second.output.find("was counted before"), std::string::npos);
  EXPECT_EQ(read_file(player).value(), written);
  // One movement is too few to plan with.
  const Ending plan = run("plan '" + kPlan + "' " + option);
  EXPECT_EQ(plan.code, 0) << plan.errors;
  EXPECT_NE(plan.output.find("too few movements"), std::string::npos) << plan.output;
}

TEST(ReviewPlayer, NothingIsLearnedWithoutTheOptionOrWithoutMovements) {
  const std::string player = scratch("none.toml");
  std::remove(player.c_str());
  const Ending ending = review_of(kSessions + "demo.mid", "--player '" + player + "'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("no movement of a hand"), std::string::npos) << ending.output;
  EXPECT_FALSE(read_file(player).ok());
  const Ending no_organ =
      run("review --score '" + kSessions + "quaverham/evening.musicxml' --tempo 76 '" + kSessions +
          "demo.mid' --player '" + player + "'");
  EXPECT_NE(no_organ.output.find("nothing is learned"), std::string::npos) << no_organ.output;
  EXPECT_FALSE(read_file(player).ok());
}

TEST(ReviewPlayer, ADamagedFileIsToldAndLeftAlone) {
  const std::string player = scratch("damaged.toml");
  const std::string damaged = "[[take]]\nkees = \"0123456789abcdef\"\n";
  ASSERT_TRUE(write_file(player, damaged).ok());
  for (const Ending& ending : {review_of(take_with_move(0.6), "--player '" + player + "'"),
                               run("plan '" + kPlan + "' --player '" + player + "'")}) {
    EXPECT_EQ(ending.code, 3);
    EXPECT_NE(ending.errors.find("damaged.toml:2"), std::string::npos) << ending.errors;
    EXPECT_NE(ending.errors.find("unknown key"), std::string::npos) << ending.errors;
    EXPECT_EQ(read_file(player).value(), damaged);
  }
}

TEST(ReviewPlayer, ATakeThatCannotBeReadLeavesTheFileAlone) {
  const std::string player = scratch("kept.toml");
  const std::string kept = "# mine\n";
  ASSERT_TRUE(write_file(player, kept).ok());
  EXPECT_EQ(review_of("nowhere.mid", "--player '" + player + "'").code, 3);
  EXPECT_EQ(read_file(player).value(), kept);
}

// A slow player: three movements on the right at twice the tabled time make 2 ^ (3 / 6) = 1.41.
// Source: advise/player_times.h.
TEST(PlanPlayer, PlansWithTheTimesAndSaysThem) {
  const std::string player = scratch("slow.toml");
  std::string text = "[[take]]\nkeys = \"0123456789abcdef\"\n";
  for (int i = 0; i < 3; ++i)
    text += "[[take.movement]]\nside = \"right\"\nkind = \"draw\"\nratio = 2\n";
  ASSERT_TRUE(write_file(player, text).ok());
  const std::string plan = "plan '" + kPlan + "' ";
  const Ending own = run(plan + "--player '" + player + "'");
  EXPECT_EQ(own.code, 0) << own.errors;
  EXPECT_NE(own.output.find("drawing on the right 1.41 times the tabled time (3 seen)"),
            std::string::npos)
      << own.output;
  const Ending tabled = run(plan);
  EXPECT_EQ(tabled.output.find("times the tabled time"), std::string::npos);
  EXPECT_NE(own.output.substr(0, tabled.output.size()), tabled.output);
  EXPECT_EQ(run(plan + "--player nowhere.toml").code, 3);
}

TEST(PlanPlayer, SuggestsWithThemToo) {
  const std::string player = scratch("suggest.toml");
  ASSERT_TRUE(write_file(player, "").ok());
  const Ending ending = run("plan '" + kPlan + "' --suggest --player '" + player + "'");
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("too few movements"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::app
