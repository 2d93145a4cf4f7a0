#pragma once

#include <string>
#include <vector>

namespace loftbeat::report {

// The card for the music desk: values -> blocks of words -> places on A5 pages -> SVG, HTML or (in
// report/print) PDF. What it says is put together in card_words.h.
//
// Type is as large as a desk 80 cm from the eye asks for. A capital letter is 0.72 of the type's
// size; 20 minutes of arc, which ergonomics recommends for reading at work, are 4.65 mm there, and
// 16, its least, 3.72 mm (figures of ISO 9241-303, from memory). What is looked at while playing
// is set in kReadingSizeMm or kWatchSizeMm; kFineSizeMm is for what is read before.
inline constexpr double kCardWidthMm = 148;    // A5 upright, ISO 216
inline constexpr double kCardHeightMm = 210;   // the same
inline constexpr double kCardMarginMm = 9;     // home printers leave out 5 mm or so
inline constexpr double kReadingSizeMm = 6.8;  // capitals of 4.9 mm: 21 minutes of arc at 80 cm
inline constexpr double kWatchSizeMm = 5.3;    // 3.8 mm: 16 minutes
inline constexpr double kFineSizeMm = 3.6;

enum class CardWeight { normal, bold };

struct CardLine {
  std::string words;  // cut into lines where they do not fit
  double size_mm = kReadingSizeMm;
  CardWeight weight = CardWeight::normal;
};
// Lines that belong together and are not parted at the foot of a page, behind a name in the margin.
struct CardBlock {
  std::string label;  // "2", "play-over"; empty: the lines take the whole width
  std::vector<CardLine> lines;
};
struct Card {
  std::string title;  // repeated on further pages
  std::vector<CardBlock> blocks;
};

// Millimetres from the page's upper left corner; y is the line the letters stand on.
struct CardText {
  double x_mm = 0;
  double y_mm = 0;
  double size_mm = 0;
  CardWeight weight = CardWeight::normal;
  std::string words;
};
struct CardRule {  // across the page
  double y_mm = 0;
};
struct CardPage {
  std::vector<CardText> texts;
  std::vector<CardRule> rules;
};

// On as few pages as can be: what is in reading size is set smaller, down to kWatchSizeMm, where
// that saves one. A line does not begin with a pitch or another number. Breaks lines by a width
// that no common sans serif type exceeds on average: 0.56 of its size for a letter, 0.6 in bold
// (assumption, held against one type by the test of the PDF). Words longer than a line are cut. At
// least one page.
[[nodiscard]] std::vector<CardPage> lay_out_card(const Card& card);
// Estimated so, in mm.
[[nodiscard]] double card_text_width_mm(const CardText& text);

// One page as a document of its own, 148 mm by 210 mm.
[[nodiscard]] std::string card_svg(const CardPage& page, const std::string& title);
// All pages in one document that prints on A5, one card to a page. `cards` in order; a service has
// one for each hymn.
[[nodiscard]] std::string cards_html(const std::vector<Card>& cards, const std::string& title);

}  // namespace loftbeat::report
