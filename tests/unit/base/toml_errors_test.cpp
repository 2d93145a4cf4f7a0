#include <gtest/gtest.h>

#include <array>
#include <functional>
#include <string>

#include "base/toml_document.h"

namespace loftbeat {
namespace {

constexpr std::array<std::pair<std::string_view, int>, 2> kBeats = {{{"quarter", 1}, {"half", 2}}};

// What a small reader with these keys says of a text.
Error error_of(std::string_view text) {
  auto document = TomlDocument::parse(text, "p.toml");
  if (!document) return document.error();
  const TomlTable root = document->root();
  static_cast<void>(root["title"].text());
  static_cast<void>(root.needed("tempo").number({20, 300}));
  static_cast<void>(root["verses"].integer({1, 200}));
  static_cast<void>(root["low"].number({0}));
  static_cast<void>(root["beat"].choice<int>(kBeats));
  static_cast<void>(root["amen"].flag());
  static_cast<void>(root["list"].integers({1, 9}));
  static_cast<void>(root["names"].texts());
  for (const TomlTable& stop : root["stop"].tables()) static_cast<void>(stop["name"].text());
  if (const auto room = root["room"].table()) static_cast<void>((*room)["volume"].number());
  const Status status = document->finish();
  return status ? Error{} : status.error();
}

struct Case {
  std::string text;
  int line;
  std::string says;
};

class TomlErrors : public testing::TestWithParam<Case> {};

TEST_P(TomlErrors, names_line_and_what_was_expected) {
  const Error error = error_of(GetParam().text);
  EXPECT_EQ(error.file, "p.toml");
  EXPECT_EQ(error.line, GetParam().line) << to_string(error);
  EXPECT_NE(to_string(error).find(GetParam().says), std::string::npos) << to_string(error);
}

INSTANTIATE_TEST_SUITE_P(
    All, TomlErrors,
    testing::Values(
        Case{"tempo = 72\ntitle = 3\n", 2, "\"title\" is 3; expected a text in quotes"},
        Case{"tempo = \"fast\"\n", 1,
             "\"tempo\" is the text \"fast\"; expected a number from 20 to 300"},
        Case{"tempo = 19.9\n", 1, "19.9; expected a number from 20 to 300"},
        Case{"tempo = nan\n", 1, "expected a number from 20 to 300"},
        Case{"tempo = 72\nlow = inf\n", 2, "inf; expected a number of at least 0"},
        Case{"tempo = 72\nverses = 4.0\n", 2, "expected a whole number from 1 to 200"},
        Case{"tempo = 72\nverses = 201\n", 2, "201; expected a whole number from 1 to 200"},
        Case{"tempo = 72\nbeat = \"hlaf\"\n", 2,
             "expected one of \"quarter\", \"half\". Did you mean \"half\"?"},
        Case{"tempo = 72\nbeat = 2\n", 2, "expected one of"},
        Case{"tempo = 72\namen = \"yes\"\n", 2, "expected true or false"},
        Case{"tempo = 72\nlist = 4\n", 2, "expected a list in brackets"},
        Case{"tempo = 72\nlist = [1,\n 2,\n 10]\n", 4, "10; expected a whole number from 1 to 9"},
        Case{"tempo = 72\nnames = [\"a\", 2]\n", 2, "expected a text in quotes"},
        Case{"tempo = 72\nstop = [1]\n", 2, "expected a table"},
        Case{"tempo = 72\nroom = 1979-05-27\n", 2, "a date; expected a table"},
        Case{"# nothing\n", 1, "\"tempo\" is missing. Add a line: tempo = ..."},
        Case{"\ntmepo = 72\n", 2, "unknown key \"tmepo\". Did you mean \"tempo\"?"},
        Case{"tempo = 72\n[room]\nvolum = 3\n", 3, "Did you mean \"volume\"?"},
        Case{"tempo = 72\n[[stop]]\nname = \"a\"\n[[stop]]\nnmae = \"b\"\n", 5,
             "unknown key \"nmae\""},
        Case{"tempo = 72\nzzzzzzzz = 1\n", 2, "Known here: title, tempo, verses"},
        Case{"tempo = 72\ntitle = \"a\n", 2, "is not well-formed TOML"},
        Case{"tempo = 72\ntempo = 73\n", 2, "is not well-formed TOML"},
        Case{"tempo = 72\ntitle = \"\xff\"\n", 2, "is not well-formed TOML"}));

TEST(TomlErrors, the_first_in_the_file_wins) {
  EXPECT_EQ(error_of("x = 1\ntempo = 1\n").line, 1);
  EXPECT_EQ(error_of("tempo = 1\nx = 1\n").line, 1);
  EXPECT_EQ(error_of("tempo = 72\nx = 1\ny = 1\nverses = 0\n").line, 2);
}

TEST(TomlErrors, long_texts_are_quoted_short) {
  const Error error = error_of("tempo = \"" + std::string(10'000, 'x') + "\"\n");
  EXPECT_LT(error.message.size(), 200U);
}

TEST(TomlErrors, a_reader_may_refuse_a_value_or_a_key) {
  auto document = TomlDocument::parse("a = 3\n[verse.x]\nb = 1\n", "p.toml");
  ASSERT_TRUE(document);
  document->root()["a"].refuse("an even number", "Try 4.");
  document->root()["verse"].table()->refuse_key("x", "a number");
  const Status status = document->finish();
  ASSERT_FALSE(status);
  EXPECT_EQ(to_string(status.error()), "p.toml:1:5: \"a\" is 3; expected an even number. Try 4.");
}

}  // namespace
}  // namespace loftbeat
