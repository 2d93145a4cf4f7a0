#include <gtest/gtest.h>

#include "plan/read.h"

namespace loftbeat::plan {
namespace {

struct Case {
  std::string rest;  // after the line that names the score
  int line;
  std::string says;
};

class PlanErrors : public testing::TestWithParam<Case> {};

TEST_P(PlanErrors, name_line_and_what_was_expected) {
  const auto plan = parse_plan("score = \"a\"\n" + GetParam().rest, "x.plan.toml");
  ASSERT_FALSE(plan) << GetParam().rest;
  EXPECT_EQ(plan.error().file, "x.plan.toml");
  EXPECT_EQ(plan.error().line, GetParam().line) << to_string(plan.error());
  EXPECT_NE(to_string(plan.error()).find(GetParam().says), std::string::npos)
      << to_string(plan.error());
}

INSTANTIATE_TEST_SUITE_P(
    Head, PlanErrors,
    testing::Values(
        Case{"title = 3\n", 2, "a text in quotes"},
        Case{"tempo = 19\n", 2, "19; expected a number from 20 to 300"},
        Case{"tempo = 301\n", 2, "expected a number from 20 to 300"},
        Case{"tempo = \"72\"\n", 2, "expected a number from 20 to 300"},
        Case{"beat = \"crotchet\"\n", 2, "expected one of \"eighth\", \"quarter\""},
        Case{"verses = 0\n", 2, "from 1 to 200"}, Case{"verses = 201\n", 2, "from 1 to 200"},
        Case{"verses = 2.5\n", 2, "a number from 1 to 200, or \"auto\""},
        Case{"verses = \"all\"\n", 2, "or \"auto\""},
        Case{"play-over = \"firstandlast\"\n", 2, "Did you mean \"first-and-last\"?"},
        Case{"play-over = 1\n", 2, "phrase numbers such as [1, 4]"},
        Case{"play-over = []\n", 2, "phrase numbers such as [1, 4]"},
        Case{"play-over = [0]\n", 2, "a whole number from 1 to 1000"},
        Case{"textures = \"fuller\"\n", 2, "a list in brackets"},
        Case{"textures = [\"fullr\"]\n", 2, "Did you mean \"fuller\"?"},
        Case{"textures = []\n", 2, "one texture or more"},
        Case{"textures = [\"as-written\", \"fuller\"]\n", 2, "\"as-written\" alone"},
        Case{"join = \"3\"\n", 2, "\"bar+1\" for one extra bar"},
        Case{"join = 3\n", 2, "hold + lift in beats such as \"3+1\""},
        Case{"join = { hold = 3 }\n", 2, "\"lift\" is missing"},
        Case{"join = { hold = 3, lift = 1, extra-bars = 0 }\n", 2, "unknown key"},
        Case{"join = { hold = -1, lift = 1 }\n", 2, "from 0 to 64"},
        Case{"join = { extra-bars = 17 }\n", 2, "from 0 to 16"},
        Case{"join-after-play-over = \"x\"\n", 2, "such as \"3+1\""},
        Case{"fermata = \"held\"\n", 2, "\"sign-only\", \"free\" or \"hold N\""},
        Case{"fermata = \"hold\"\n", 2, "\"hold N\""},
        Case{"fermata = \"hold -1\"\n", 2, "\"hold N\""}, Case{"fermata = 1\n", 2, "\"hold N\""},
        Case{"phrase-starts = \"4\"\n", 2, "a list in brackets"},
        Case{"phrase-starts = [\"4\",\n \"5:0\"]\n", 3, "a bar and a beat such as \"4:3\""},
        Case{"phrase-starts = [\":1\"]\n", 2, "a bar and a beat"},
        Case{"phrase-starts = [\"4:x\"]\n", 2, "a bar and a beat"},
        Case{"phrase-starts = [4.5]\n", 2, "a bar and a beat"},
        Case{"wish = \"brigth\"\n", 2, "Did you mean \"bright\"?"},
        Case{"wish = 3\n", 2, "\"full\", or figures such as"},
        Case{"wish = {}\n", 2, "{ lead = 12, sharpness = 1.6 }"},
        Case{"wish = { led = 3, lead = 2 }\n", 2, "Did you mean \"lead\"?"},
        Case{"wish = { lead = -1 }\n", 2, "from 0 to 1000"},
        Case{"moves-at = \"phrase\"\n", 2, "such as \"phrase 3\""},
        Case{"moves-at = \"phrase 0\"\n", 2, "such as \"phrase 3\""},
        Case{"moves-at = \"silnt\"\n", 2, "Did you mean \"silent\"?"},
        Case{"moves-at = 3\n", 2, "such as \"phrase 3\""},
        Case{"helper = \"yes\"\n", 2, "true or false"},
        Case{"hold-stops = \"Bourdon\"\n", 2, "a list in brackets"},
        Case{"not-stops = [\"\"]\n", 2, "names of 1 to 200 bytes"},
        Case{"hold-stop = []\n", 2, "Did you mean \"hold-stops\"?"},
        Case{"breath-seconds = 1\n", 2, "from 2 to 60"},
        Case{"[play-over-pass]\nmoves-at = \"join\"\n", 3, "unknown key"},
        Case{"refrain = 3\n", 2, "a list in brackets"},
        Case{"refrain = [\"3\"]\n", 2, "a whole number from 1 to 1000"},
        Case{"amen = 1\n", 2, "true or false"},
        Case{"tmepo = 72\n", 2, "unknown key \"tmepo\". Did you mean \"tempo\"?"},
        Case{"playover = \"none\"\n", 2, "Did you mean \"play-over\"?"}));

INSTANTIATE_TEST_SUITE_P(
    Tables, PlanErrors,
    testing::Values(Case{"verse = 3\n", 2, "expected a table"},
                    Case{"[verse.0]\n", 2, "a verse number from 1 to 200, as in [verse.3]"},
                    Case{"[verse.201]\n", 2, "a verse number"},
                    Case{"[verse.03]\n", 2, "a verse number"},
                    Case{"[verse.last]\n", 2, "a verse number"},
                    Case{"[verse.2]\ntexture = [\"fuller\"]\n", 3, "Did you mean \"textures\"?"},
                    Case{"[verse.2]\nunaccompanied = \"yes\"\n", 3, "true or false"},
                    Case{"[verse.2]\ntranspose = 13\n", 3, "from -12 to 12"},
                    Case{"[verse.2]\nphrases = [1, -1]\n", 3, "from 1 to 1000"},
                    Case{"[verse.2]\njoin-after = \"1\"\n", 3, "such as \"3+1\""},
                    Case{"[verse.2]\nbroaden = \"15\"\n", 3, "expected a table"},
                    Case{"[verse.2]\nbroaden = { percent = 80 }\n", 3, "\"from\" is missing"},
                    Case{"[verse.2]\nbroaden = { from = \"15\", percent = 49 }\n", 3,
                         "from 50 to 100"},
                    Case{"[play-over-pass]\nphrases = [1]\n", 3, "unknown key \"phrases\""},
                    Case{"[play-over-pass]\nunaccompanied = true\n", 3, "unknown key"},
                    Case{"[[fermata-at]]\nplace = \"4\"\n", 2, "\"rule\" is missing"},
                    Case{"[[fermata-at]]\nrule = \"free\"\n", 2, "\"place\" is missing"},
                    Case{"[[fermata-at]]\nplace = \"4\"\nrule = \"long\"\n", 4, "\"hold N\""},
                    Case{"[[interlude]]\nbeats = 3\n", 2, "\"after-verse\" is missing"},
                    Case{"[[interlude]]\nafter-verse = 1\nbeats = 513\n", 4, "from 0 to 512"},
                    Case{"[tolerances]\njoin-ms = 2001\n", 3, "from 0 to 2000"},
                    Case{"[tolerances]\njoinms = 20\n", 3, "Did you mean \"join-ms\"?"},
                    Case{"tolerances = 3\n", 2, "expected a table"}));

TEST(PlanErrors, a_plan_without_a_score) {
  const auto plan = parse_plan("tempo = 72\n", "x.plan.toml");
  ASSERT_FALSE(plan);
  EXPECT_EQ(to_string(plan.error()),
            "x.plan.toml:1: \"score\" is missing. Add a line: score = ...");
  EXPECT_FALSE(parse_plan("score = \"\"\n", "x.plan.toml"));
  EXPECT_FALSE(parse_plan("score = 3\n", "x.plan.toml"));
}

TEST(PlanErrors, a_plan_that_is_not_there) {
  const auto plan = read_plan("/nowhere/x.plan.toml");
  ASSERT_FALSE(plan);
  EXPECT_EQ(plan.error().file, "/nowhere/x.plan.toml");
}

}  // namespace
}  // namespace loftbeat::plan
