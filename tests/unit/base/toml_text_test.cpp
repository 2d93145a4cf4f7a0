#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <limits>
#include <random>
#include <string>

#include "base/toml_document.h"

namespace loftbeat {
namespace {

// The oracle is the TOML parser itself (a library outside the project).
std::string read_back(const std::string& written) {
  auto document = TomlDocument::parse("a = " + written + "\n", "t.toml");
  if (!document) return "unreadable: " + to_string(document.error());
  return document->root()["a"].text().value_or("not a text");
}

TEST(TomlText, texts_come_back) {
  for (const char* text : {"", "plain", "say \"x\"", "back\\slash", "line\nbreak", "tab\t\r",
                           "\x01\x1f\x7f", "Grüße", "𝄞", "'", "\\u0041"}) {
    EXPECT_EQ(read_back(toml_text(text)), text);
  }
}

TEST(TomlText, random_texts_come_back) {
  std::mt19937 random(7);
  for (int i = 0; i < 500; ++i) {
    std::string text;
    for (auto n = random() % 20; n > 0; --n) text += static_cast<char>(random() % 128);
    EXPECT_EQ(read_back(toml_text(text)), text);
  }
}

TEST(TomlText, random_bytes_always_give_a_readable_line) {
  std::mt19937 random(8);
  for (int i = 0; i < 2000; ++i) {
    std::string bytes;
    for (auto n = random() % 12; n > 0; --n) bytes += static_cast<char>(random() % 256);
    const std::string written = toml_text(bytes);
    EXPECT_EQ(written.find('\n'), std::string::npos);
    EXPECT_EQ(read_back(written).rfind("unreadable", 0), std::string::npos) << written;
  }
}

// RFC 3629 section 4: overlong forms, surrogates and values past U+10FFFF are not UTF-8.
TEST(TomlText, what_is_not_utf8_becomes_the_replacement_character) {
  const std::string mark = "\xEF\xBF\xBD";
  EXPECT_EQ(toml_text("\xff"), "\"" + mark + "\"");
  EXPECT_EQ(toml_text("\xc0\x80"), "\"" + mark + mark + "\"");
  EXPECT_EQ(toml_text("\xed\xa0\x80"), "\"" + mark + mark + mark + "\"");
  EXPECT_EQ(toml_text("\xf4\x90\x80\x80"), "\"" + mark + mark + mark + mark + "\"");
  EXPECT_EQ(toml_text("a\xe2\x82"), "\"a" + mark + mark + "\"");
}

TEST(TomlText, numbers_come_back_bit_for_bit) {
  std::mt19937_64 random(9);
  for (int i = 0; i < 2000; ++i) {
    const std::uint64_t bits = random();
    double value = 0;
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    auto document = TomlDocument::parse("a = " + toml_number(value) + "\n", "t.toml");
    ASSERT_TRUE(document) << toml_number(value);
    EXPECT_EQ(document->root()["a"].number(), value);
  }
  EXPECT_EQ(toml_number(3), "3");
  EXPECT_EQ(toml_number(0.1), "0.1");
}

}  // namespace
}  // namespace loftbeat
