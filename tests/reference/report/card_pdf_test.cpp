// The card's PDF, read by a program that is not ours.
// Source: poppler's pdfinfo, pdffonts and pdftotext (independent reader); ISO 216 for A5, 148 mm
// by 210 mm, which are 419.5 by 595.3 points of 1/72 inch.

#include <unistd.h>

#include <cstdlib>
#include <regex>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "outside_tool.h"
#include "report/print/card_pdf.h"

namespace loftbeat::report {
namespace {

constexpr double kPointsPerMm = 72 / 25.4;

std::string scratch_file(const std::string& name) {
  return ::testing::TempDir() + std::to_string(::getpid()) + "-card-" + name;
}

std::string answer(const std::string& command) {
  const std::string out = scratch_file("out");
  EXPECT_EQ(std::system((command + " >'" + out + "' 2>/dev/null").c_str()), 0) << command;
  return read_file(out).value();
}

Card desk_card(const std::string& title, int verses) {
  Card card{title, {{"", {{"76 a minute · hold 4, lift 2", kReadingSizeMm, CardWeight::bold}}}}};
  for (int verse = 1; verse <= verses; ++verse) {
    card.blocks.push_back(
        {std::to_string(verse),
         {{"RIGHT: draw Great Mixture III, WWWW Diapason 8", kReadingSizeMm, CardWeight::bold},
          {"last line: look right, row 4, knob 3", kWatchSizeMm, CardWeight::normal}}});
  }
  return card;
}

std::string written(const std::vector<Card>& cards) {
  const auto pdf = cards_pdf(cards, "Evening, 2026");
  EXPECT_TRUE(pdf.ok()) << (pdf ? "" : to_string(pdf.error()));
  const std::string path = scratch_file("card.pdf");
  EXPECT_TRUE(write_file(path, *pdf).ok());
  return path;
}

TEST(CardPdf, IsA5WithAPageForEachCardAndItsTypeInIt) {
  if (!loftbeat::testing::is_there("pdfinfo -v", "poppler-utils")) GTEST_SKIP();
  const std::string path = written({desk_card("First", 2), desk_card("Second", 3)});
  const std::string facts = answer("pdfinfo '" + path + "'");
  EXPECT_NE(facts.find("Pages:           2"), std::string::npos) << facts;
  std::smatch size;
  ASSERT_TRUE(std::regex_search(facts, size, std::regex("Page size: +([0-9.]+) x ([0-9.]+)")));
  EXPECT_NEAR(std::stod(size[1]), kCardWidthMm * kPointsPerMm, 1);
  EXPECT_NEAR(std::stod(size[2]), kCardHeightMm * kPointsPerMm, 1);
  EXPECT_NE(facts.find("Evening, 2026"), std::string::npos) << facts;
  // Every font: name, type, encoding, embedded?
  const std::string fonts = answer("pdffonts '" + path + "'");
  EXPECT_NE(fonts.find(" yes "), std::string::npos) << fonts;
  EXPECT_EQ(std::regex_search(fonts, std::regex("(Type|TrueType).* no +(yes|no) +(yes|no)")), false)
      << fonts;
}

// Where a stranger's reader finds the words: within the margins although the type is not the one
// that the lines were broken for.
TEST(CardPdf, HoldsEveryWordInOrderInsideTheMargins) {
  if (!loftbeat::testing::is_there("pdftotext -v", "poppler-utils")) GTEST_SKIP();
  const Card card = desk_card("Now the lamps are lit at even", 6);
  const std::string path = written({card});
  const std::string text = answer("pdftotext -layout '" + path + "' -");
  std::size_t at = 0;
  for (const std::string words : {"Now the lamps are lit", "76 a minute", "RIGHT: draw"}) {
    const auto found = text.find(words, at);
    ASSERT_NE(found, std::string::npos) << words << text;
    at = found;
  }
  const std::string boxes = answer("pdftotext -bbox '" + path + "' -");
  const std::regex box(
      "xMin=\"([0-9.]+)\" yMin=\"([0-9.]+)\" xMax=\"([0-9.]+)\" yMax=\"([0-9.]+)\"");
  int words = 0;
  for (auto one = std::sregex_iterator(boxes.begin(), boxes.end(), box);
       one != std::sregex_iterator(); ++one, ++words) {
    EXPECT_GE(std::stod((*one)[1]), kCardMarginMm * kPointsPerMm - 0.5);
    EXPECT_LE(std::stod((*one)[3]), (kCardWidthMm - kCardMarginMm) * kPointsPerMm + 0.5);
    EXPECT_LE(std::stod((*one)[4]), kCardHeightMm * kPointsPerMm);
  }
  EXPECT_GT(words, 60);
}

}  // namespace
}  // namespace loftbeat::report
