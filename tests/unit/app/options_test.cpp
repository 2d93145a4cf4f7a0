#include "app/options.h"

#include <gtest/gtest.h>

namespace loftbeat::app {
namespace {

using Words = std::vector<std::string>;

ReviewOrder order_of(const Words& words) {
  const Invocation invocation = read_command_line(words);
  EXPECT_TRUE(invocation.order.has_value()) << invocation.errors;
  return invocation.order.value_or(ReviewOrder{});
}

TEST(CommandLine, PlanAndTake) {
  const ReviewOrder order =
      order_of({"review", "a.plan.toml", "t.mid", "--json", "-", "--page", "p.html"});
  EXPECT_EQ(order.plan_path, "a.plan.toml");
  EXPECT_EQ(order.take_path, "t.mid");
  EXPECT_EQ(order.json_path, "-");
  EXPECT_EQ(order.page_path, "p.html");
}

TEST(CommandLine, ScoreAndItsOptions) {
  const ReviewOrder order =
      order_of({"review", "--score", "h.mxl", "--tempo", "54.5", "--beat", "dotted-quarter",
                "--verses", "4", "--play-over", "1,4", "--join", "3+1.5", "t.mid"});
  EXPECT_TRUE(order.plan_path.empty());
  EXPECT_EQ(order.plan.score_path, "h.mxl");
  EXPECT_EQ(order.plan.tempo_bpm, 54.5);
  EXPECT_EQ(order.plan.beat, plan::BeatUnit::dotted_quarter);
  EXPECT_EQ(order.plan.verses, 4);
  EXPECT_EQ(order.plan.play_over.kind, plan::PlayOverKind::phrases);
  EXPECT_EQ(order.plan.play_over.phrases, (std::vector<int>{1, 4}));
  ASSERT_TRUE(order.plan.join.has_value());
  EXPECT_EQ(order.plan.join->hold_beats, 3);
  EXPECT_EQ(order.plan.join->lift_beats, 1.5);
}

TEST(CommandLine, AutoIsTheDefault) {
  for (const Words& words : {Words{"review", "--score", "h.mxl", "--tempo", "72", "t.mid"},
                             Words{"review", "--score", "h.mxl", "--tempo", "72", "--verses",
                                   "auto", "--play-over", "auto", "t.mid"}}) {
    const ReviewOrder order = order_of(words);
    EXPECT_FALSE(order.plan.verses.has_value());
    EXPECT_FALSE(order.plan.join.has_value());
    EXPECT_EQ(order.plan.play_over.kind, plan::PlayOverKind::automatic);
    EXPECT_EQ(order.plan.beat, plan::BeatUnit::quarter);
  }
}

TEST(CommandLine, JoinByTheBarAndPlayOverByName) {
  const Words head = {"review", "--score", "h.mxl", "--tempo", "72", "t.mid"};
  const auto with = [&](const char* option, const char* value) {
    Words words = head;
    words.insert(words.end(), {option, value});
    return order_of(words).plan;
  };
  EXPECT_EQ(with("--join", "bar").join->kind, plan::JoinKind::by_the_bar);
  EXPECT_EQ(with("--play-over", "none").play_over.kind, plan::PlayOverKind::none);
  EXPECT_EQ(with("--play-over", "all").play_over.kind, plan::PlayOverKind::whole);
  EXPECT_EQ(with("--play-over", "first-and-last").play_over.kind,
            plan::PlayOverKind::first_and_last);
}

class WrongUse : public ::testing::TestWithParam<Words> {};

TEST_P(WrongUse, IsRefusedWithOneMessage) {
  const Invocation invocation = read_command_line(GetParam());
  EXPECT_FALSE(invocation.order.has_value());
  EXPECT_EQ(invocation.code, kWrongUse);
  EXPECT_TRUE(invocation.output.empty());
  EXPECT_FALSE(invocation.errors.empty());
}

INSTANTIATE_TEST_SUITE_P(
    Lines, WrongUse,
    ::testing::Values(Words{}, Words{"revue"}, Words{"review"}, Words{"review", "t.mid"},
                      Words{"review", "a", "b", "c"}, Words{"review", "a", "b", "--what"},
                      Words{"review", "p", "t", "--tempo", "72"},
                      Words{"review", "--score", "s", "t.mid"},
                      Words{"review", "--score", "s", "--tempo", "72", "p", "t"},
                      Words{"review", "--score", "s", "--tempo", "fast", "t"},
                      Words{"review", "--score", "s", "--tempo", "nan", "t"},
                      Words{"review", "--score", "s", "--tempo", "0", "t"},
                      Words{"review", "--score", "s", "--tempo", "301", "t"},
                      Words{"review", "--score", "s", "--tempo", "72", "--verses", "0", "t"},
                      Words{"review", "--score", "s", "--tempo", "72", "--verses", "201", "t"},
                      Words{"review", "--score", "s", "--tempo", "72", "--verses", "99999999999",
                            "t"},
                      Words{"review", "--score", "s", "--tempo", "72", "--beat", "crochet", "t"},
                      Words{"review", "--score", "s", "--tempo", "72", "--play-over", "1,x", "t"},
                      Words{"review", "--score", "s", "--tempo", "72", "--join", "3+", "t"},
                      Words{"review", "p", "t", "--json", "-", "--page", "-"}));

TEST(CommandLine, HelpAndVersionAreToldPlainly) {
  for (const Words& words : {Words{"--help"}, Words{"review", "--help"}, Words{"--version"}}) {
    const Invocation invocation = read_command_line(words);
    EXPECT_EQ(invocation.code, kReviewed);
    EXPECT_FALSE(invocation.order.has_value());
    EXPECT_FALSE(invocation.output.empty());
    EXPECT_TRUE(invocation.errors.empty());
  }
  EXPECT_EQ(read_command_line({"--version"}).output.rfind("loftbeat ", 0), 0u);
  EXPECT_NE(read_command_line({"review", "--help"}).output.find("--play-over"), std::string::npos);
}

TEST(ExitCode, OneForEachKindOfFailure) {
  EXPECT_EQ(exit_code({ErrorKind::wrong_use, "", "", 0, 0, ""}), 2);
  EXPECT_EQ(exit_code({ErrorKind::unreadable, "", "", 0, 0, ""}), 3);
  EXPECT_EQ(exit_code({ErrorKind::too_large, "", "", 0, 0, ""}), 3);
  EXPECT_EQ(exit_code({ErrorKind::no_fit, "", "", 0, 0, ""}), 4);
  EXPECT_EQ(exit_code({ErrorKind::failed, "", "", 0, 0, ""}), 1);
}

TEST(Options, WhatIsWrongIsSaidInPlainWords) {
  const std::vector<std::pair<std::vector<std::string>, std::string>> cases = {
      {{"reviw", "x"},
       "there is no command \"reviw\"; expected review, listen, sound, plan, card, history, learn, "
       "hymns, export or devices. Did you mean"},
      {{"--tempo", "70", "review"}, "name the command first"},
      {{"review", "--tempo", "abc", "x"}, "--tempo abc is not understood; expected a number."},
      {{"review", "--tempo"}, "--tempo needs a value after it."},
      {{"review", "--tmpo", "70", "a"}, "--tmpo is no option of loftbeat review. Did you mean"},
      {{"sound", "a", "--speed", "80"}, "--speed goes with --take"},
      {{"hymns"}, "no folder is named."},
      {{"hymns", "x", "--json", "-", "--play"}, "--json does not go with --play."},
      {{"export", "a.abc"}, "--to is missing"},
      {{"export", "a.abc", "--to", "a.doc"}, "does not say what to write."},
      {{"sound", "a", "b"}, "\"b\" is one file or word too many."},
      {{"sound", "--swell", "7"}, "--swell 7 is not understood; expected a number from 0 to 1."},
      {{"sound", "--people", "x"}, "expected a number from 0 to 10000."},
  };
  for (const auto& [words, sentence] : cases) {
    const Invocation told = read_command_line(words);
    EXPECT_EQ(told.code, kWrongUse);
    EXPECT_NE(told.errors.find(sentence), std::string::npos) << told.errors;
    EXPECT_NE(told.errors.find("See loftbeat"), std::string::npos) << told.errors;
  }
}

TEST(Options, DevicesAreListedAndTakeNoArguments) {
  EXPECT_TRUE(read_command_line({"devices"}).devices);
  EXPECT_FALSE(read_command_line({"devices", "x"}).devices);
  EXPECT_FALSE(read_command_line({"devices", "--help"}).devices);
}

}  // namespace
}  // namespace loftbeat::app
