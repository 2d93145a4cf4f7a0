// The card's pages: nothing lost, nothing off the paper, nothing too small to be read.

#include "report/card.h"

#include <algorithm>
#include <cmath>
#include <random>

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

std::string letters(const std::string& words) {
  std::string out;
  std::copy_if(words.begin(), words.end(), std::back_inserter(out),
               [](char c) { return c != ' '; });
  return out;
}

Card random_card(std::mt19937& random) {
  const auto words = [&] {
    std::string out;
    const auto count = 1 + random() % 14;
    for (std::size_t i = 0; i < count; ++i) {
      out += i > 0 ? " " : "";
      const auto length = 1 + random() % (random() % 20 == 0 ? 90 : 9);
      for (std::size_t k = 0; k < length; ++k) {
        if (random() % 12 == 0)
          out += "ü";
        else
          out += static_cast<char>('a' + random() % 26);
      }
    }
    return out;
  };
  Card card;
  card.title = words();
  const auto blocks = random() % 12;
  for (std::size_t b = 0; b < blocks; ++b) {
    CardBlock block;
    if (random() % 4 > 0) block.label = random() % 2 == 0 ? std::to_string(b + 1) : "play over";
    const auto lines = 1 + random() % (random() % 10 == 0 ? 40 : 4);
    for (std::size_t l = 0; l < lines; ++l) {
      const double size = std::vector{kReadingSizeMm, kWatchSizeMm, kFineSizeMm}[random() % 3];
      block.lines.push_back(
          {words(), size, random() % 2 == 0 ? CardWeight::bold : CardWeight::normal});
    }
    card.blocks.push_back(block);
  }
  return card;
}

TEST(Card, KeepsEveryLetterOnThePaperAndApart) {
  std::mt19937 random(7);
  int several = 0;
  for (int trial = 0; trial < 300; ++trial) {
    const Card card = random_card(random);
    const std::vector<CardPage> pages = lay_out_card(card);
    ASSERT_FALSE(pages.empty());
    several += pages.size() > 1 ? 1 : 0;
    std::string printed;
    for (const CardPage& page : pages) {
      double foot = 0;
      for (const CardText& text : page.texts) {
        printed += letters(text.words);
        EXPECT_GE(text.x_mm, kCardMarginMm);
        EXPECT_LE(text.x_mm + card_text_width_mm(text), kCardWidthMm - kCardMarginMm + 1e-9);
        EXPECT_GE(text.y_mm - text.size_mm, kCardMarginMm - text.size_mm);
        EXPECT_LE(text.y_mm, kCardHeightMm - kCardMarginMm + 1e-9);
        foot = std::max(foot, text.y_mm);
      }
      // Two lines in one column stand apart by at least the lower one's size.
      for (const CardText& upper : page.texts) {
        for (const CardText& lower : page.texts) {
          if (&upper == &lower || upper.x_mm != lower.x_mm) continue;
          EXPECT_GE(std::abs(lower.y_mm - upper.y_mm),
                    0.95 * std::min(lower.size_mm, upper.size_mm));
        }
      }
      for (const CardRule& rule : page.rules) EXPECT_LT(rule.y_mm, foot);
    }
    for (const CardBlock& block : card.blocks) {
      for (const CardLine& line : block.lines)
        EXPECT_NE(printed.find(letters(line.words)), std::string::npos) << line.words;
    }
  }
  EXPECT_GT(several, 10);
}

// Numbers, numerals and per cents stay with the word that they belong to.
TEST(Card, BeginsNoLineWithAPitch) {
  for (int letters = 1; letters < 60; ++letters) {
    const std::string word(static_cast<std::size_t>(letters % 12 + 1), 'n');
    std::string words = "LEFT: draw";
    for (int stop = 0; stop < letters / 6 + 1; ++stop)
      words += " " + word + " Bass Flute 8, Twelfth 2 2/3, Mixture III, box 80 % open";
    const Card card{"Title", {{"1", {{words, kReadingSizeMm, CardWeight::bold}}}}};
    for (const CardPage& page : lay_out_card(card)) {
      for (const CardText& text : page.texts) {
        if (text.x_mm <= kCardMarginMm + 1) continue;  // the label
        const bool bad = text.words[0] == '%' || text.words[0] == 'I' ||
                         (text.words[0] >= '0' && text.words[0] <= '9');
        EXPECT_FALSE(bad) << text.words;
      }
    }
  }
}

// A page for two words is turned for nothing: with a little smaller type it is not there.
TEST(Card, TakesAsFewPagesAsTheSmallestTypeWould) {
  for (int verses = 1; verses <= 60; ++verses) {
    Card card{"Title", {}};
    Card small{"Title", {}};
    for (int verse = 1; verse <= verses; ++verse) {
      const std::string label = std::to_string(verse);
      card.blocks.push_back({label, {{"RIGHT: draw Principal 4", kReadingSizeMm}}});
      small.blocks.push_back({label, {{"RIGHT: draw Principal 4", kWatchSizeMm}}});
    }
    EXPECT_LE(lay_out_card(card).size(), lay_out_card(small).size()) << verses;
  }
}

TEST(Card, SetsTypeSmallerOnlyForFewerPagesAndNeverBelowWhatCanBeRead) {
  Card card{"Title", {}};
  double last = kReadingSizeMm;
  for (int verse = 1; verse <= 20; ++verse) {
    card.blocks.push_back({std::to_string(verse), {{"RIGHT: draw Principal 4", kReadingSizeMm}}});
    const std::vector<CardPage> pages = lay_out_card(card);
    double size = kReadingSizeMm;
    for (const CardPage& page : pages) {
      for (const CardText& text : page.texts) {
        if (text.words.rfind("RIGHT", 0) == 0) size = std::min(size, text.size_mm);
      }
    }
    EXPECT_GE(size, kWatchSizeMm);
    if (pages.size() > 1) {
      EXPECT_EQ(size, kReadingSizeMm);  // two pages have room for it
      EXPECT_GT(verse, 12);             // a dozen verses with one short line each stand on one page
      return;
    }
    EXPECT_LE(size, last);
    last = size;
  }
  ADD_FAILURE() << "twenty verses on one page";
}

TEST(Card, IsWellFormedWhateverTheTitleSays) {
  const std::string evil = "</text><script>alert('1')</script>&\"\x01\xFF";
  const Card card{evil, {{evil, {{evil, kReadingSizeMm}}}}};
  pugi::xml_document svg;
  const std::string picture = card_svg(lay_out_card(card).front(), evil);
  ASSERT_TRUE(svg.load_string(picture.c_str())) << picture;
  EXPECT_STREQ(svg.document_element().attribute("width").value(), "148mm");
  EXPECT_STREQ(svg.document_element().attribute("height").value(), "210mm");
  EXPECT_FALSE(svg.select_node("//*[local-name()='script']"));
  pugi::xml_document page;
  const std::string html = cards_html({card, card}, evil);
  ASSERT_TRUE(page.load_string(html.c_str(), pugi::parse_default | pugi::parse_doctype)) << html;
  EXPECT_FALSE(page.select_node("//script"));
  EXPECT_EQ(page.select_nodes("//svg").size(), 2u);
  EXPECT_NE(html.find("@page{size:148mm 210mm"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::report
