#include "report/utf8.h"

#include <gtest/gtest.h>

namespace loftbeat::report {
namespace {

TEST(CleanText, KeepsGoodTextAsItIs) {
  for (const char* text : {"", "Nun danket", "Sch\xC3\xB6nster", "\xE2\x86\x92 \xF0\x9F\x8E\xB6"}) {
    EXPECT_EQ(clean_text(text), text);
  }
}

TEST(CleanText, TakesTheSpellOutOfControlCharacters) {
  EXPECT_EQ(clean_text("a\x1b[31mb"), "a\xEF\xBF\xBD[31mb");
  EXPECT_EQ(clean_text("a\tb\nc"), "a b c");
  EXPECT_EQ(clean_text("\xE2\x80\xAEgpj.exe"), "\xEF\xBF\xBDgpj.exe");  // right-to-left override
}

// Ill-formed sequences after table 3-7 of the Unicode Standard: bytes that never occur, overlong
// forms, surrogates, beyond U+10FFFF, cut short.
TEST(CleanText, ReplacesWhatIsNoUtf8) {
  for (const char* bad : {"\xC0\xAF", "\xC1\xBF", "\xE0\x80\xAF", "\xED\xA0\x80",
                          "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xE2\x82", "\x80", "\xFF"}) {
    const std::string clean = clean_text(std::string("x") + bad + "y");
    EXPECT_EQ(clean.front(), 'x');
    EXPECT_EQ(clean.back(), 'y');
    EXPECT_NE(clean.find("\xEF\xBF\xBD"), std::string::npos);
    EXPECT_EQ(clean_text(clean), clean);
  }
}

TEST(DisplayWidth, CountsColumnsNotBytes) {
  EXPECT_EQ(display_width(""), 0u);
  EXPECT_EQ(display_width("play-over \xE2\x86\x92 1"), 13u);
  EXPECT_EQ(display_width("e\xCC\x81"), 1u);     // e and a combining accent
  EXPECT_EQ(display_width("\xE6\xAD\x8C"), 2u);  // a wide letter
}

TEST(EscapeMarkup, LeavesNothingThatMarkupWouldRead) {
  EXPECT_EQ(escape_markup("<a href=\"x\">'&'</a>"),
            "&lt;a href=&quot;x&quot;&gt;&#39;&amp;&#39;&lt;/a&gt;");
}

}  // namespace
}  // namespace loftbeat::report
