#include <gtest/gtest.h>

#include "plan/read.h"
#include "plan/route.h"
#include "tunes.h"

namespace loftbeat::plan {
namespace {

struct RouteCase {
  std::string rest;
  int line;
  std::string says;
};

void expect_error(const RouteCase& expected, const music::Score& score) {
  const auto plan = parse_plan("score = \"a\"\n" + expected.rest, "x.plan.toml");
  ASSERT_TRUE(plan) << to_string(plan.error());
  const auto route = make_route(*plan, score);
  ASSERT_FALSE(route) << expected.rest;
  EXPECT_EQ(route.error().kind, ErrorKind::no_fit);
  EXPECT_EQ(route.error().file, "x.plan.toml");
  EXPECT_EQ(route.error().line, expected.line) << to_string(route.error());
  EXPECT_NE(to_string(route.error()).find(expected.says), std::string::npos)
      << to_string(route.error());
}

class RouteErrors : public testing::TestWithParam<RouteCase> {};

TEST_P(RouteErrors, name_the_plans_line) { expect_error(GetParam(), common_metre_tune()); }

INSTANTIATE_TEST_SUITE_P(
    All, RouteErrors,
    testing::Values(
        RouteCase{"play-over = [1, 5]\n", 2, "there is no phrase 5; the tune has 4."},
        RouteCase{"refrain = [9]\n", 2, "there is no phrase 9"},
        RouteCase{"[verse.1]\nphrases = [1, 7]\n", 2, "there is no phrase 7"},
        RouteCase{"verses = 2\n[verse.2]\nphrases = [7]\n", 3, "there is no phrase 7"},
        RouteCase{"verses = 2\nmoves-at = \"phrase 9\"\n", 3, "there is no phrase 9"},
        RouteCase{"verses = 2\n[verse.2]\nmoves-at = \"phrase 4\"\n", 4, "is the tune's last."},
        RouteCase{"phrase-starts = [\"2\",\n\"44\"]\n", 3,
                  "bar \"44\" is not in the score. The score has bars 0 to 8."},
        RouteCase{"phrase-starts = [\"2:5\"]\n", 2, "bar 2 of the score has no beat 5."},
        RouteCase{"phrase-starts = [\"0:3\"]\n", 2, "bar 0 of the score has no beat 3."},
        RouteCase{"[[fermata-at]]\nplace = \"9\"\nrule = \"free\"\n", 3, "is not in the score"},
        RouteCase{"[[fermata-at]]\nplace = \"2:2\"\nrule = \"free\"\n", 3,
                  "no note begins at bar 2, beat 2."},
        RouteCase{"verses = 2\n[verse.3]\ntranspose = 1\n", 3,
                  "verse 3 is planned, but the hymn has 2 verses."},
        RouteCase{"verses = 1\n[[interlude]]\nafter-verse = 2\n", 3, "the hymn has 1 verse."},
        RouteCase{"verses = 2\n[verse.2]\nbroaden = { from = \"12\" }\n", 4, "is not in the score"},
        RouteCase{"verses = 2\n[verse.2]\nphrases = [1]\nbroaden = { from = \"7\" }\n", 5,
                  "bar 7 is not played in pass 2."},
        RouteCase{"verses = 2\njoin = \"0+0\"\n", 3, "leaves no room between 1 and 2."},
        RouteCase{
            "verses = 2\nplay-over = \"whole\"\njoin = \"3+1\"\njoin-after-play-over = \"0+0\"\n",
            5, "leaves no room between play-over and 1."},
        RouteCase{"verses = 3\njoin = \"3+1\"\n[verse.2]\njoin-after = \"0+0\"\n", 4,
                  "leaves no room between 2 and 3."}));

TEST(RouteErrors, a_tune_without_phrases) {
  const auto tune = TuneMaker({4, 4}).full_bars(2).crotchets(8).make();
  expect_error({"play-over = [1]\n", 2, "State where they begin: phrase-starts"}, tune);
  expect_error({"play-over = \"first-and-last\"\n", 2, "needs a tune in phrases"}, tune);
}

TEST(RouteErrors, a_phrase_without_a_note) {
  const auto tune = TuneMaker({4, 4}).full_bars(3).crotchets(4).rest(4 * kQ).crotchets(4).make();
  expect_error({"phrase-starts = [\"2\", \"3\"]\nplay-over = [2]\n", 3, "without a note"}, tune);
}

TEST(RouteErrors, a_score_without_notes) {
  expect_error({"", 0, "the score has no notes"}, TuneMaker({4, 4}).full_bars(1).make());
  expect_error({"", 0, "the score has no notes"}, music::Score{});
}

}  // namespace
}  // namespace loftbeat::plan
