#include <gtest/gtest.h>

#include <string>

#include "base/toml_document.h"

namespace loftbeat {
namespace {

std::string repeated(std::string_view text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i) all += text;
  return all;
}

ErrorKind kind_of(const std::string& text) {
  const auto document = TomlDocument::parse(text, "h.toml");
  return document ? ErrorKind::failed : document.error().kind;
}

TEST(TomlLimits, size_is_bounded) {
  EXPECT_EQ(kind_of(std::string((1u << 20) + 1, '\n')), ErrorKind::too_large);
  EXPECT_TRUE(TomlDocument::parse(std::string(1u << 20, '\n'), "h.toml").ok());
}

TEST(TomlLimits, brackets_are_bounded) {
  const auto lists = [](int depth) {
    return "a = " + repeated("[", depth) + repeated("]", depth) + "\n";
  };
  EXPECT_TRUE(TomlDocument::parse(lists(63), "h.toml").ok());
  EXPECT_EQ(kind_of(lists(65)), ErrorKind::too_large);
  EXPECT_EQ(kind_of(lists(400'000)), ErrorKind::too_large);
  EXPECT_EQ(kind_of("a = " + repeated("{a=", 200'000)), ErrorKind::too_large);
}

TEST(TomlLimits, dotted_keys_are_bounded) {
  EXPECT_TRUE(TomlDocument::parse(repeated("a.", 60) + "a = 1\n", "h.toml").ok());
  EXPECT_EQ(kind_of(repeated("a.", 65) + "a = 1\n"), ErrorKind::too_large);
  EXPECT_EQ(kind_of(repeated("a.", 400'000) + "a = 1\n"), ErrorKind::too_large);
  EXPECT_EQ(kind_of(repeated("\"a\".", 200'000) + "a = 1\n"), ErrorKind::too_large);
  EXPECT_EQ(kind_of("[" + repeated("a . ", 200'000) + "a]\n"), ErrorKind::too_large);
}

// Each key is within its bound, but together they would nest 61 times 61 tables.
TEST(TomlLimits, brackets_and_dots_together_are_bounded) {
  const std::string key = repeated("a.", 60) + "a";
  std::string text = key + " = " + repeated("{" + key + " = ", 60) + "1" + repeated("}", 60) + "\n";
  EXPECT_EQ(kind_of(text), ErrorKind::too_large);
}

TEST(TomlLimits, dots_and_brackets_in_texts_and_comments_do_not_count) {
  const std::string dots = repeated(".", 500) + repeated("[", 500);
  const std::string text = "# " + dots + "\na = \"" + dots + "\"\nb = '" + dots +
                           "'\nc = \"\"\"\n" + dots + "\n\\\"\"\"\"\"\nd = '''" + dots + "'''\n" +
                           "e = [" + repeated("1.5, ", 500) + "]\n";
  const auto document = TomlDocument::parse(text, "h.toml");
  EXPECT_TRUE(document.ok()) << to_string(document.error());
}

TEST(TomlLimits, the_line_of_the_excess_is_named) {
  const auto document =
      TomlDocument::parse("a = \"\"\"\n\n\"\"\"\nb = " + repeated("[", 100), "h.toml");
  ASSERT_FALSE(document);
  EXPECT_EQ(document.error().line, 4);
}

TEST(TomlLimits, the_number_of_values_is_bounded) {
  EXPECT_EQ(kind_of("a = [" + repeated("1,", 200'000) + "]\n"), ErrorKind::too_large);
  EXPECT_TRUE(TomlDocument::parse("a = [" + repeated("1,", 99'000) + "]\n", "h.toml").ok());
}

}  // namespace
}  // namespace loftbeat
