#include "base/toml_document.h"

#include <gtest/gtest.h>

#include <array>
#include <string>

namespace loftbeat {
namespace {

TomlDocument document_of(std::string_view text) {
  auto document = TomlDocument::parse(text, "a.toml");
  if (!document) {
    ADD_FAILURE() << to_string(document.error());
    return TomlDocument::parse("", "a.toml").value();
  }
  return std::move(document).value();
}

TEST(TomlDocument, reads_every_kind_of_value) {
  TomlDocument document = document_of(
      "title = \"Evening\"\n"
      "tempo = 72\n"
      "ratio = 1.5\n"
      "amen = true\n"
      "refrain = [3, 4]\n"
      "words = [\"a\", \"b\"]\n"
      "[room]\n"
      "volume = 900\n"
      "[[stop]]\n"
      "name = \"Flute\"\n"
      "[[stop]]\n"
      "name = \"Oboe\"\n");
  const TomlTable root = document.root();
  EXPECT_EQ(root["title"].text(), "Evening");
  EXPECT_EQ(root["tempo"].integer(), 72);
  EXPECT_EQ(root["tempo"].number(), 72.0);
  EXPECT_EQ(root["ratio"].number(), 1.5);
  EXPECT_EQ(root["amen"].flag(), true);
  EXPECT_EQ(root["refrain"].integers(), (std::vector<std::int64_t>{3, 4}));
  EXPECT_EQ(root["words"].texts(), (std::vector<std::string>{"a", "b"}));
  EXPECT_EQ((*root["room"].table())["volume"].number(), 900);
  const auto stops = root["stop"].tables();
  ASSERT_EQ(stops.size(), 2U);
  EXPECT_EQ(stops[0]["name"].text(), "Flute");
  EXPECT_EQ(stops[1]["name"].text(), "Oboe");
  EXPECT_TRUE(document.finish().ok());
}

TEST(TomlDocument, absent_keys_are_nothing_and_no_error) {
  TomlDocument document = document_of("a = 1\n");
  const TomlTable root = document.root();
  EXPECT_EQ(root["a"].integer(), 1);
  const TomlItem item = root["b"];
  EXPECT_FALSE(item.present());
  EXPECT_FALSE(item.text() || item.flag() || item.number() || item.integer() || item.table());
  EXPECT_TRUE(item.items().empty() && item.texts().empty() && item.tables().empty());
  constexpr std::array<std::pair<std::string_view, int>, 1> kWords = {{{"one", 1}}};
  EXPECT_FALSE(item.choice<int>(kWords));
  item.refuse("anything");
  EXPECT_TRUE(document.finish().ok());
}

TEST(TomlDocument, knows_kinds_and_lines) {
  TomlDocument document = document_of("a = \"x\"\nb = 2\n\nc = 2.5\nd = [1,\n  2]\n[e]\nf = 1\n");
  const TomlTable root = document.root();
  EXPECT_TRUE(root["a"].is_text());
  EXPECT_TRUE(root["b"].is_integer() && root["b"].is_number());
  EXPECT_TRUE(root["c"].is_number() && !root["c"].is_integer());
  EXPECT_TRUE(root["d"].is_array());
  EXPECT_TRUE(root["e"].is_table());
  EXPECT_EQ(root["b"].line(), 2);
  EXPECT_EQ(root["c"].line(), 4);
  EXPECT_EQ(root["d"].items()[1].line(), 6);
  EXPECT_EQ(root["e"].table()->line(), 7);
  EXPECT_EQ((*root["e"].table())["absent"].line(), 7);
}

TEST(TomlDocument, a_single_table_counts_as_a_list_of_one) {
  TomlDocument document = document_of("[stop]\nname = \"Flute\"\n");
  const auto stops = document.root()["stop"].tables();
  ASSERT_EQ(stops.size(), 1U);
  EXPECT_EQ(stops[0]["name"].text(), "Flute");
}

TEST(TomlDocument, choice_maps_words_to_values) {
  enum class Side { left, right };
  constexpr std::array<std::pair<std::string_view, Side>, 2> kSides = {
      {{"left", Side::left}, {"right", Side::right}}};
  TomlDocument document = document_of("jamb = \"right\"\n");
  EXPECT_EQ(document.root()["jamb"].choice<Side>(kSides), Side::right);
  EXPECT_TRUE(document.finish().ok());
}

TEST(TomlDocument, keys_come_in_the_order_of_the_file) {
  TomlDocument document = document_of("[verse.3]\na = 1\n[verse.1]\na = 2\n[verse.20]\na = 3\n");
  const auto verses = document.root()["verse"].table();
  ASSERT_TRUE(verses);
  EXPECT_EQ(verses->keys(), (std::vector<std::string>{"3", "1", "20"}));
}

TEST(TomlDocument, handles_outlive_a_move_of_the_document) {
  TomlDocument first = document_of("a = 1\nb = 2\n");
  const TomlTable root = first.root();
  EXPECT_EQ(root["a"].integer(), 1);
  const TomlDocument second = std::move(first);
  EXPECT_EQ(root["b"].integer(), 2);
  EXPECT_TRUE(second.finish().ok());
}

TEST(TomlDocument, a_missing_file_is_one_clear_error) {
  const auto document = TomlDocument::read("/nowhere/x.toml");
  ASSERT_FALSE(document);
  EXPECT_EQ(document.error().kind, ErrorKind::unreadable);
  EXPECT_EQ(document.error().file, "/nowhere/x.toml");
}

}  // namespace
}  // namespace loftbeat
