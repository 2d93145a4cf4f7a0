#include "report/terminal.h"

#include <iostream>
#include <sstream>

#include <gtest/gtest.h>

#include "report/utf8.h"
#include "sample_review.h"

namespace loftbeat::report {
namespace {

using loftbeat::testing::sample_review;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

class TerminalWidth : public ::testing::TestWithParam<int> {};

TEST_P(TerminalWidth, NoLineIsWiderThanTheTerminal) {
  const std::string text = terminal_text(sample_review(), {GetParam()});
  for (const std::string& line : lines_of(text)) {
    EXPECT_LE(display_width(line), static_cast<std::size_t>(GetParam())) << line;
  }
}

INSTANTIATE_TEST_SUITE_P(Widths, TerminalWidth, ::testing::Values(30, 40, 60, 80, 132, 200));

TEST(Terminal, TablesStandInSixtyColumns) {
  const std::string text = terminal_text(sample_review(), {60});
  EXPECT_NE(text.find("\nplay-over "), std::string::npos);
  EXPECT_NE(text.find("\nplay-over → 1 "), std::string::npos);
}

TEST(Terminal, NarrowerThanTheTableEachPassIsAParagraph) {
  const std::string text = terminal_text(sample_review(), {40});
  EXPECT_NE(text.find("\nverse 2: tempo "), std::string::npos);
}

TEST(Terminal, ColourOnlyWhenAskedForAndNeverAlone) {
  const practice::Review review = sample_review();
  const std::string plain = terminal_text(review, {80});
  std::string coloured = terminal_text(review, {80, TerminalStyle::Colour::ansi});
  EXPECT_EQ(plain.find('\x1b'), std::string::npos);
  EXPECT_NE(coloured.find('\x1b'), std::string::npos);
  for (std::size_t at = 0; (at = coloured.find('\x1b')) != std::string::npos;) {
    coloured.erase(at, coloured.find('m', at) - at + 1);
  }
  EXPECT_EQ(coloured, plain);
}

TEST(Terminal, FlagsWhatTheFindingsSpeakOf) {
  const std::string text = terminal_text(sample_review(), {80});
  EXPECT_NE(text.find("late!"), std::string::npos);
  EXPECT_NE(text.find("+48 ms!"), std::string::npos);
  EXPECT_EQ(text.find("in time!"), std::string::npos);
}

TEST(Terminal, NothingFromAFileReachesTheTerminalUnclean) {
  practice::Review review = sample_review();
  const std::string evil = "\x1b]0;owned\x07";
  review.plan.title = review.take_name = evil;
  review.alignment.passes[1].label = evil;
  review.advice.push_back(evil);
  review.notices.push_back({evil, evil, 1});
  review.timing.passes[0].steadiness_percent = Measured<double>::unknown(evil);
  review.score.bars[4].number = evil;
  const std::string text = terminal_text(review, {80});
  EXPECT_EQ(text.find('\x1b'), std::string::npos);
  EXPECT_EQ(text.find('\x07'), std::string::npos);
}

TEST(Terminal, UnknownFiguresAreADashWithTheirReason) {
  practice::Review review = sample_review();
  review.timing.passes[1].pedal_lag =
      Measured<timing::LagMs>::unknown("the take has no pedal division");
  const std::string text = terminal_text(review, {80});
  EXPECT_NE(text.find("feet to hands: the take has no pedal division."), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::report
