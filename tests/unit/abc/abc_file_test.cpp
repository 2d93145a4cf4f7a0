// Files of ABC: several tunes, how one is named, which bytes are taken for ABC, text and titles.

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "abc_piece.h"
#include "music/abc_text.h"

namespace loftbeat::music {
namespace {

using namespace abc;

const std::string kBook =
    "%abc-2.1\nM:3/4\nL:1/4\n\nX:1\nT:One\nK:C\nC3|\n\nfree text: no field\nC4\n\n"
    "X:7\nT: Seven % the second\nT:Other name\nK:C\n[CE\n\nX:3\nT:Three\nM:4/4\nK:G\nF4|\n";

TEST(AbcFile, ListsItsTunes) {
  const auto tunes = list_abc_tunes(kBook, "book.abc");
  ASSERT_TRUE(tunes.ok());
  EXPECT_EQ(*tunes, (std::vector<AbcTune>{{1, "One", 5}, {7, "Seven", 13}, {3, "Three", 19}}));
}

TEST(AbcFile, GivesEachTuneByItsNumber) {
  EXPECT_EQ(parse_abc(kBook, "book.abc", 1)->score.title, "One");
  const auto three = parse_abc(kBook, "book.abc", 3);
  ASSERT_TRUE(three.ok());  // though the tune before it is broken
  EXPECT_EQ(pitches(three->score), std::vector<int>{66});
  EXPECT_EQ(three->score.bars[0].beats, 4);
  EXPECT_EQ(parse_abc(kBook, "book.abc", 1)->score.bars[0].beats, 3);  // by the file's header
  EXPECT_TRUE(three->notices.empty());
}

TEST(AbcFile, ReadsTheFirstTuneAndSaysSo) {
  const auto first = parse_abc(kBook, "parish/book.abc");
  ASSERT_TRUE(first.ok());
  EXPECT_EQ(first->score.title, "One");
  ASSERT_EQ(first->notices.size(), 1u);
  EXPECT_NE(first->notices[0].message.find("\"book.abc#7\""), std::string::npos);
}

TEST(AbcFile, TellsWhichTunesThereAre) {
  const auto missing = parse_abc(kBook, "book.abc", 4);
  ASSERT_FALSE(missing.ok());
  EXPECT_NE(missing.error().message.find("X:4"), std::string::npos);
  EXPECT_NE(missing.error().message.find("7 \"Seven\""), std::string::npos);
}

TEST(AbcFile, WithoutNumbersHoldsOneTune) {
  const auto tunes = list_abc_tunes("T:Alone\nM:4/4\nL:1/4\nK:C\nC4|\n", "a.abc");
  ASSERT_TRUE(tunes.ok());
  EXPECT_EQ(*tunes, (std::vector<AbcTune>{{0, "Alone", 1}}));
}

class AbcFolderOf : public testing::Test {
 protected:
  AbcFolderOf() : path_(std::filesystem::path(testing::TempDir()) / "abc_file_test") {
    std::filesystem::create_directories(path_);
  }
  ~AbcFolderOf() override { std::filesystem::remove_all(path_); }
  std::string write(const std::string& name, const std::string& text) const {
    std::string path = (path_ / name).string();
    std::ofstream(path, std::ios::binary) << text;
    return path;
  }

 private:
  std::filesystem::path path_;
};

TEST_F(AbcFolderOf, NamesATuneBehindTheFile) {
  const std::string path = write("book.abc", kBook);
  EXPECT_EQ(read_score(path + "#3")->score.title, "Three");
  EXPECT_EQ(read_score(path)->score.title, "One");
  EXPECT_EQ(read_score(path + "#7").error().line, 17);
  EXPECT_FALSE(read_score(path + "#9").ok());
  EXPECT_FALSE(read_score(path + "#x").ok());
  EXPECT_FALSE(read_score(path + "#").ok());
  EXPECT_FALSE(read_score(path + ".none#1").ok());
}

TEST_F(AbcFolderOf, HashMayBelongToTheName) {
  EXPECT_EQ(read_score(write("tune#3.abc", tune("C4|")))->score.title, "Test");
  write("a.abc", kBook);
  EXPECT_EQ(read_score(write("a.abc#3", tune("C4|")))->score.title, "Test");
}

TEST(AbcRecognition, GoesByTheBytes) {
  EXPECT_TRUE(parse_score(tune("C4|"), "no ending").ok());
  EXPECT_TRUE(parse_score("\xEF\xBB\xBF% note\n\n" + tune("C4|"), "tune.mid").ok());
  EXPECT_TRUE(looks_like_abc("%abc-2.1\n"));
  EXPECT_FALSE(looks_like_abc("X: marks the spot\nK:C\n"));
  EXPECT_FALSE(looks_like_abc("X:1\nno key"));
  EXPECT_FALSE(looks_like_abc(std::string_view("X:1\n\0K:C\n", 9)));
  EXPECT_NE(parse_score("nothing", "a.txt").error().message.find("ABC"), std::string::npos);
}

TEST(AbcText, IsUtf8OrLatin1) {
  EXPECT_EQ(score(tune("C4|", "T:x\n")).title, "Test");
  EXPECT_EQ(score("X:1\nT:M\xC3\xBChle\nL:1/4\nK:C\nC4|\n").title, "M\xC3\xBChle");
  EXPECT_EQ(score("X:1\nT:M\xFChle\nL:1/4\nK:C\nC4|\n").title, "M\xC3\xBChle");
  EXPECT_EQ(score("%%abc-charset iso-8859-1\nX:1\nT:\xC3\xBC\nL:1/4\nK:C\nC4|\n").title,
            "\xC3\x83\xC2\xBC");
  EXPECT_EQ(score("\xEF\xBB\xBFX:1\r\nT:Lines\r\nL:1/4\r\nK:C\r\nC4|\r\n").length,
            4 * kTicksPerQuarter);
  EXPECT_EQ(score("X:1\rT:Old lines\rL:1/4\rK:C\rC4|\r").title, "Old lines");
}

// Source: ABC 2.1, section 8.2.
TEST(AbcText, ResolvesAccents) {
  EXPECT_EQ(plain_abc_text(R"(\'e\`a\^o\"u\~n\cc\oe\ss\ae\AA\/o\vs)"), "éàôüñçœßæÅøš");
  EXPECT_EQ(plain_abc_text("&eacute;&ccedil;&amp;&#252;&#xfc;\\u00fc &nosuch; & \\z"),
            "éç&üüü &nosuch; & \\z");
  EXPECT_EQ(plain_abc_text(" 50\\% \t of "), "50% of");
  EXPECT_EQ(plain_abc_text(std::string(399, 'a') + "\xC3\xA9" + "b").size(), 399u);
}

TEST(AbcLines, PassOverWhatIsNoMusic) {
  EXPECT_EQ(
      score(tune("%%begintext obeylines\nC D E F\n\nX:9\n%%endtext\nC4 | % D4\n%%newpage\n%: E4\n"
                 "[r: F4] [P:A]\nP:B\nN:G4\nG4 \\% |\n"))
          .length,
      8 * kTicksPerQuarter);
  EXPECT_EQ(score(tune("A:|\nC4|\n")).notes.size(), 3u);  // a note and a repeat, no field
}

}  // namespace
}  // namespace loftbeat::music
