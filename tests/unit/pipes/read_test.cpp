#include <gtest/gtest.h>

#include <set>
#include <string>
#include <string_view>

#include "recipe_fixture.h"

namespace loftbeat::pipes {
namespace {

std::string with(std::string text, std::string_view old, std::string_view fresh) {
  const std::size_t at = text.find(old);
  EXPECT_NE(at, std::string::npos) << old;
  return text.replace(at, old.size(), fresh);
}

std::string error_of(const std::string& text) {
  const auto recipes = parse_recipes(text, "small.toml");
  return recipes.ok() ? "" : to_string(recipes.error());
}

TEST(ReadRecipes, TakesFileWideFiguresUnlessTheRankHasItsOwn) {
  const auto recipes = parse_recipes(kSmallFile, "small.toml");
  ASSERT_TRUE(recipes.ok()) << to_string(recipes.error());
  ASSERT_EQ(recipes->ranks.size(), 2U);
  const Rank& breaking = recipes->ranks[0];  // by program
  EXPECT_EQ(breaking.id, "break-ii");
  EXPECT_EQ(breaking.tone.corner, 6);
  EXPECT_EQ(breaking.tone.above_db, 20);
  EXPECT_EQ(breaking.speech.seconds, 0.05);
  EXPECT_EQ(breaking.source, "made up");
  EXPECT_DOUBLE_EQ(breaking.feet, 2);
  ASSERT_EQ(breaking.steps.size(), 2U);
  EXPECT_EQ(breaking.steps[0].from_key, 0);
  EXPECT_EQ(breaking.steps[1].from_key, 60);
  EXPECT_DOUBLE_EQ(breaking.steps[1].feet[1], 8 / 3.0);
  const Rank* plain = recipes->find("plain-8");
  ASSERT_NE(plain, nullptr);
  EXPECT_EQ(plain->tone.above_db, Tone().above_db);
  EXPECT_EQ(plain->power_db, 90);
  EXPECT_EQ(recipes->find("plain"), nullptr);
  EXPECT_EQ(recipes->ids(), (std::vector<std::string>{"break-ii", "plain-8"}));
}

struct Wrong {
  std::string_view old;
  std::string_view fresh;
  std::string_view told;  // in the error
};

TEST(ReadRecipes, TellsWhatIsWrongAndWhere) {
  const Wrong wrongs[] = {
      {"corner = 6", "cornre = 6",
       "small.toml:5:1: unknown key \"cornre\". Did you mean \"corner\"?"},
      {"corner = 6", "corner = 99", "small.toml:5"},
      {"family = \"principal\"", "family = \"pricipal\"", "Did you mean \"principal\"?"},
      {"source = \"made up\"\n", "", "\"source\""},
      {"program = 3", "program = 1", "taken"},
      {"id = \"break-ii\"", "id = \"plain-8\"", "It is taken by small.toml:8"},
      {"program = 3", "program = 128", "small.toml:10"},
      {"id = \"plain-8\"", "id = \"Plain 8\"", "small letters"},
      {"label = \"Plain 8\"", "label = \"A label of more than 19\"", "at most 19"},
      {"pitch = \"8\"", "pitch = \"8 1/0\"", "small.toml:11"},
      {"pitch = \"8\"", "pitch = 8", "small.toml:11"},
      {"pitch = \"8\"", "pitch = \"64\"", "1/4 to 32"},
      {"pitch = \"8\"", "", "\"pitch\""},
      {"from = 60", "from = 61", "a C"},
      {"from = 60", "from = 24", "above the step before"},
      {"\"4\", \"2 2/3\"", "", "1 to 8 foot pitches"},
      {"steps = [", "pitch = \"8\"\nsteps = [", "not both"},
      {"power = 90", "", "\"power\""},
      {"power = 90", "power = nan", "small.toml:12"},
      {"tone = { above = 20 }", "tone = { formants = [[500, 3]] }", "three numbers"},
      {"tone = { above = 20 }", "tone = 3", "small.toml:21"},
  };
  for (const Wrong& wrong : wrongs) {
    const std::string told = error_of(with(kSmallFile, wrong.old, wrong.fresh));
    EXPECT_NE(told.find(wrong.told), std::string::npos) << wrong.fresh << ": " << told;
  }
}

TEST(ReadRecipes, WantsAFolderWithRecipes) {
  const auto none = read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/no-such-folder");
  ASSERT_FALSE(none.ok());
  EXPECT_FALSE(none.error().hint.empty());
  const auto empty = read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/tools");
  ASSERT_FALSE(empty.ok());
  EXPECT_NE(to_string(empty.error()).find("no pipe recipes"), std::string::npos);
}

TEST(ShippedRecipes, AreReadWholeAndSayWhereTheirFiguresComeFrom) {
  const auto recipes = read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts");
  ASSERT_TRUE(recipes.ok()) << to_string(recipes.error());
  for (const char* id : {"principal-16",      "principal-8",    "principal-4",  "principal-2-2-3",
                         "principal-2",       "open-flute-8",   "open-flute-4", "stopped-flute-8",
                         "stopped-flute-4",   "string-8",       "celeste-8",    "mutation-2-2-3",
                         "mutation-1-3-5",    "mutation-1-1-3", "mixture-iii",  "mixture-iv",
                         "mixture-sharp-iii", "reed-8",         "oboe-8",       "reed-4",
                         "stopped-flute-16",  "reed-16",        "voice-8"})
    EXPECT_NE(recipes->find(id), nullptr) << id;
  for (const Rank& rank : recipes->ranks) {
    const bool says = rank.source.find("ssumption") != std::string::npos ||
                      rank.source.find("no source") != std::string::npos ||
                      rank.source.find("as the") != std::string::npos ||
                      rank.source.find("As the") != std::string::npos;
    EXPECT_TRUE(says) << rank.id << ": " << rank.source;
  }
}

}  // namespace
}  // namespace loftbeat::pipes
