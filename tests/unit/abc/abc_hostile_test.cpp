// Bad ABC: one clear error with its place, or a notice; never more than the limits.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>

#include "abc_piece.h"

namespace loftbeat::music {
namespace {

using namespace abc;

struct Wrong {
  const char* body;
  int line;
  int column;
  const char* expected;  // part of the message
};

// The body begins in line 6.
TEST(AbcErrors, TellTheirPlace) {
  const Wrong cases[] = {
      {"C [CE | D", 6, 7, "then ]"},
      {"C [CE", 6, 3, "expected ]"},
      {"C4|\nD \"open", 7, 3, "expected \""},
      {"C {gc D", 6, 3, "expected }"},
      {"C ^ D", 6, 3, "letter from A to G"},
      {"C D0", 6, 4, "length"},
      {"C D/0", 6, 4, "length"},
      {"C99999999999", 6, 2, "length"},
      {"(0CD", 6, 1, "from 1 to 99"},
      {"(3:99999:3CDE", 6, 1, "from 1 to 99"},
      {"C4 |0 D4 :|", 6, 5, "from 1 to 99"},
      {"C [M:four] D", 6, 6, "M:3/4"},
      {"C [K:H] D", 6, 6, "K:Bb"},
      {"C [L:1/5] D", 6, 6, "L:1/4"},
      {"C [V:] D", 6, 6, "V:1"},
      {"C [M:3/4 D", 6, 3, "expected ]"},
      {"C4|\nM:3/5", 7, 3, "M:3/4"},
      {"c'''''''", 6, 1, "0 to 127"},
      {"C [V:1 octave=x]D", 6, 6, "whole number"},
      {"C Z99999 D", 6, 3, "1 to 1000"},
      {"C>>>>>>>>D", 6, 2, "6 times"},
      {"\xC3\xA9\xC3\xA9 C [", 6, 6, "expected ]"},  // columns count characters
  };
  for (const Wrong& wrong : cases) {
    const Error error = error_of(tune(wrong.body));
    EXPECT_EQ(error.file, "test.abc") << wrong.body;
    EXPECT_EQ(error.line, wrong.line) << wrong.body;
    EXPECT_EQ(error.column, wrong.column) << wrong.body << ": " << error.message;
    EXPECT_NE(error.message.find(wrong.expected), std::string::npos) << error.message;
    EXPECT_NE(error.message.find("expected"), std::string::npos) << error.message;
  }
}

TEST(AbcErrors, OfTheHeader) {
  EXPECT_EQ(error_of("X:1\nT:t\nM:4/4\nC D E F|\n").line, 4);
  EXPECT_EQ(error_of("X:1\nT:t\n").line, 2);
  EXPECT_EQ(error_of("X:1\nM:3\nK:C\nC|\n").line, 2);
  EXPECT_EQ(error_of("X:1\nL:x\nK:C\nC|\n").line, 2);
  EXPECT_EQ(error_of("X:1\nK:Q\nC|\n").line, 2);
  EXPECT_EQ(error_of("X:1\nV:1 transpose=up\nK:C\nC|\n").line, 2);
  EXPECT_NE(error_of("X:1\nK:C\nz4|\n").message.find("no note"), std::string::npos);
  EXPECT_NE(error_of(tune("|2 C4 |]")).message.find("first ending"), std::string::npos);
  EXPECT_FALSE(parse_abc("just words", "a").ok());
  EXPECT_FALSE(parse_abc("", "a").ok());
  EXPECT_FALSE(list_abc_tunes("\xFF\xFEX\0", "a").ok());
}

// A broken tune tells line and column in the file, and hides no other.
TEST(AbcErrors, OfOneTuneLeaveTheOthersUsable) {
  const std::string file =
      "X:1\nT:One\nM:4/4\nL:1/4\nK:C\nC D E F|\n\nX:2\nT:Two\nM:4/4\nL:1/4\nK:C\nC D [E|\n\n"
      "X:3\nT:Three\nM:4/4\nL:1/4\nK:C\nG A B c|\n";
  const auto tunes = list_abc_tunes(file, "three.abc");
  ASSERT_TRUE(tunes.ok());
  EXPECT_EQ(tunes->size(), 3u);
  EXPECT_TRUE(parse_abc(file, "three.abc", 1).ok());
  EXPECT_TRUE(parse_abc(file, "three.abc", 3).ok());
  const auto broken = parse_abc(file, "three.abc", 2);
  ASSERT_FALSE(broken.ok());
  EXPECT_EQ(broken.error().line, 13);
  EXPECT_EQ(broken.error().column, 7);
  EXPECT_NE(broken.error().message.find("expected"), std::string::npos);
}

TEST(AbcNotices, TellWhatIsPassedOver) {
  for (const char* odd :
       {"C 7 D", "C ] D", "C /2 D", "C>|D", ">C", "[]C", "(3CD(3EFG", "C \xC3\xA9 D"}) {
    const ReadScore r = read(tune(odd, "M:none\n"));
    EXPECT_FALSE(r.notices.empty()) << odd;
    EXPECT_EQ(r.notices.front().line, 7) << odd;
  }
  EXPECT_EQ(read(tune("C4|", "P:ABA\n")).notices.size(), 1u);
  EXPECT_EQ(read(tune("C4|", "m: ~n = g\n")).notices.size(), 1u);
  EXPECT_EQ(read(tune(std::string(1000, ']') + "C4|")).notices.size(), 51u);
}

TEST(AbcLimits, HoldMemoryDown) {
  std::string voices;
  for (int v = 0; v < 70; ++v) voices += "[V:" + std::to_string(v) + "] C4|\n";
  EXPECT_EQ(error_of(tune(voices)).kind, ErrorKind::too_large);
  EXPECT_EQ(error_of(tune("C&C&C&C&C&C&C&C&C|")).kind, ErrorKind::too_large);
  EXPECT_EQ(error_of(tune("C9999|")).kind, ErrorKind::too_large);
  EXPECT_EQ(error_of(tune("C4000C4000|")).kind, ErrorKind::too_large);
  EXPECT_EQ(error_of(tune("[" + std::string(65, 'C') + "]|")).kind, ErrorKind::too_large);
  std::string verses = "C|\n";
  for (int v = 0; v < 201; ++v) verses += "w: a\n";
  EXPECT_EQ(error_of(tune(verses)).kind, ErrorKind::too_large);
  std::string bars;
  for (int b = 0; b < 260'000; ++b) bars += "z|";
  EXPECT_EQ(error_of(tune(bars + "C")).kind, ErrorKind::too_large);
  std::string repeats;
  for (int b = 0; b < 20'000; ++b) repeats += "|::::: C :::::|\n";
  EXPECT_EQ(error_of(tune(repeats)).kind, ErrorKind::too_large);
  std::string tunes;
  for (int t = 0; t < 100'001; ++t) tunes += "X:1\n";
  EXPECT_EQ(list_abc_tunes(tunes, "a").error().kind, ErrorKind::too_large);
}

// Input that would take long if anything were looked at again and again.
TEST(AbcLimits, ManyOfOneKindAreReadInOneGo) {
  std::string metres;
  std::string blocks;
  for (int i = 0; i < 200'000; ++i) metres += "C[M:3/4]|";
  EXPECT_TRUE(parse_abc(tune(metres, "M:none\n"), "a").error().kind == ErrorKind::too_large);
  for (int i = 0; i < 200'000; ++i) blocks += "%%begintext\n";
  EXPECT_TRUE(parse_abc(tune(blocks + "C4|"), "a").ok());
  std::string line = "C4|";
  for (int i = 0; i < 200'000; ++i) line += " ] !";
  EXPECT_TRUE(parse_abc(tune(line), "a").ok());
}

// Every tune of the tree, cut after any byte, and with any byte replaced: read or refused, and what
// is read keeps the order of time.
TEST(AbcDamage, NeverDoesMoreThanFail) {
  const char* quick = std::getenv("LOFTBEAT_QUICK");
  const std::size_t step = quick != nullptr ? 31 : 3;
  const std::string folder = LOFTBEAT_SOURCE_DIR "/tests/reference/abc/tunes";
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string text = *read_file(entry.path().string());
    ++files;
    const auto attempt = [&](const std::string& damaged) {
      const auto read = parse_abc(damaged, "damaged.abc");
      if (!read) {
        EXPECT_FALSE(read.error().message.empty());
        return;
      }
      Tick end = 0;
      for (const Bar& bar : read->score.bars) {
        EXPECT_EQ(bar.start, end);
        end += bar.length;
      }
      EXPECT_EQ(read->score.length, end);
    };
    for (std::size_t i = 0; i < text.size(); i += step) {
      attempt(text.substr(0, i));
      std::string changed = text;
      constexpr std::string_view kBytes = "[]{}|:\"!(-&>^9/\n%wV";
      changed[i] = kBytes[(i / step) % kBytes.size()];
      attempt(changed);
    }
  }
  EXPECT_GE(files, 20u);
}

}  // namespace
}  // namespace loftbeat::music
