#include "report/card.h"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr double kLabelMm = 19;
constexpr double kLabelWordMm = 4.2;  // "between" fits; numbers are set larger than the text
constexpr double kLeading = 1.22;
constexpr double kBlockGapMm = 2.6;
constexpr double kBottomMm = kCardHeightMm - kCardMarginMm;

double sign_width(CardWeight weight) { return weight == CardWeight::bold ? 0.6 : 0.56; }

double width_of(const std::string& words, double size_mm, CardWeight weight) {
  return static_cast<double>(display_width(words)) * size_mm * sign_width(weight);
}

// Bytes of the longest beginning of `words` that has at most `signs` signs, at least one.
std::size_t bytes_of(const std::string& words, std::size_t signs) {
  std::size_t at = 0;
  std::size_t count = 0;
  while (at < words.size()) {
    std::size_t next = at + 1;
    while (next < words.size() && (static_cast<unsigned char>(words[next]) & 0xC0U) == 0x80U)
      ++next;
    if (count >= std::max<std::size_t>(signs, 1)) break;
    at = next;
    ++count;
  }
  return at;
}

// "8", "2 2/3", "III", "% open": no line begins with what belongs to the word before it.
bool belongs_before(const std::string& words, std::size_t at) {
  const std::size_t end = std::min(words.find_first_of(" ,;.", at), words.size());
  const std::string word = words.substr(at, end - at);
  if (word.empty()) return false;
  const bool digit = word[0] >= '0' && word[0] <= '9';
  return digit || word[0] == '%' || word.find_first_not_of("IVX") == std::string::npos;
}

// The last space up to `most` bytes at which a line may end; npos if there is none.
std::size_t last_break(const std::string& words, std::size_t most) {
  const std::size_t last = words.rfind(' ', most);
  std::size_t space = last;
  while (space != std::string::npos && space > 0 && belongs_before(words, space + 1))
    space = words.rfind(' ', space - 1);
  return space == std::string::npos || space == 0 ? last : space;
}

std::vector<std::string> broken(const std::string& words, double width_mm, double size_mm,
                                CardWeight weight) {
  std::vector<std::string> lines;
  const auto most = static_cast<std::size_t>(width_mm / (size_mm * sign_width(weight)));
  std::string rest = words;
  while (display_width(rest) > most) {
    std::size_t cut = bytes_of(rest, most);
    const std::size_t space = last_break(rest, cut);
    const bool at_space = space != std::string::npos && space > 0;
    if (at_space) cut = space;
    lines.push_back(rest.substr(0, cut));
    rest.erase(0, cut + (at_space ? 1 : 0));
  }
  if (!rest.empty()) lines.push_back(rest);
  return lines;
}

// What is printed in reading size may be set smaller, so that all of it takes fewer pages; never
// below the size for watching.
struct Sizes {
  double reading_mm = kReadingSizeMm;
  [[nodiscard]] double of(double size_mm) const { return std::min(size_mm, reading_mm); }
};

// One block laid from y = 0 downwards.
struct Laid {
  std::vector<CardText> texts;
  double height_mm = 0;
};

// The name comes first, so that it stands where its block begins.
void add_label(const std::string& label, Sizes sizes, Laid& laid) {
  const bool number = display_width(label) <= 3;
  const double size = number ? sizes.reading_mm * 1.3 : kLabelWordMm;
  for (std::string& words : broken(label, kLabelMm - 1, size, CardWeight::bold)) {
    laid.height_mm += size * kLeading;
    laid.texts.push_back(
        {kCardMarginMm, laid.height_mm - 0.3 * size, size, CardWeight::bold, std::move(words)});
  }
}

Laid lay_out_block(const CardBlock& block, Sizes sizes) {
  Laid laid;
  const double left = kCardMarginMm + (block.label.empty() ? 0 : kLabelMm);
  const double width = kCardWidthMm - kCardMarginMm - left;
  if (!block.label.empty()) add_label(clean_text(block.label), sizes, laid);
  double y = 0;
  for (const CardLine& line : block.lines) {
    const double size = sizes.of(line.size_mm);
    for (std::string& words : broken(clean_text(line.words), width, size, line.weight)) {
      y += size * kLeading;
      laid.texts.push_back({left, y - 0.25 * size, size, line.weight, std::move(words)});
    }
  }
  laid.height_mm = std::max(laid.height_mm, y);
  return laid;
}

class Pages {
 public:
  Pages(const Card& card, Sizes sizes) : title_(card.title), sizes_(sizes) { begin(); }

  void add(const CardBlock& block) {
    Laid laid = lay_out_block(block, sizes_);
    if (laid.texts.empty()) return;
    if (y_ + laid.height_mm > kBottomMm && !fresh_) begin();
    if (!fresh_) pages_.back().rules.push_back({y_ - kBlockGapMm / 2});
    place(std::move(laid));
    y_ += kBlockGapMm;
    fresh_ = false;
  }
  [[nodiscard]] std::vector<CardPage> done() { return std::move(pages_); }

 private:
  void begin() {
    pages_.emplace_back();
    y_ = kCardMarginMm;
    const std::string more = pages_.size() > 1 ? fmt::format(" ({})", pages_.size()) : "";
    place(lay_out_block({"", {{title_ + more, kReadingSizeMm, CardWeight::bold}}}, sizes_));
    y_ += kBlockGapMm;
    fresh_ = true;
  }
  // A block longer than a whole page goes on over the next ones.
  void place(Laid laid) {
    double down = y_;
    for (CardText& text : laid.texts) {
      if (text.y_mm + down > kBottomMm) {
        down -= text.y_mm + down - (kCardMarginMm + text.size_mm);
        pages_.emplace_back();
      }
      text.y_mm += down;
      pages_.back().texts.push_back(std::move(text));
    }
    y_ = down + laid.height_mm;
  }

  std::string title_;
  Sizes sizes_;
  std::vector<CardPage> pages_;
  double y_ = 0;
  bool fresh_ = true;
};

constexpr const char* kLooks =
    "text{font-family:'DejaVu Sans','Liberation Sans',Arial,Helvetica,sans-serif;fill:#000}"
    ".b{font-weight:bold}.r{stroke:#000;stroke-width:.25}";

// What stands on a page, without the element round it.
std::string drawing(const CardPage& page) {
  std::string out;
  for (const CardRule& rule : page.rules) {
    fmt::format_to(std::back_inserter(out),
                   "<line class=\"r\" x1=\"{0:.2f}\" x2=\"{1:.2f}\" y1=\"{2:.2f}\" "
                   "y2=\"{2:.2f}\"/>\n",
                   kCardMarginMm, kCardWidthMm - kCardMarginMm, rule.y_mm);
  }
  for (const CardText& text : page.texts) {
    fmt::format_to(std::back_inserter(out),
                   "<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:.2f}\"{}>{}</text>\n", text.x_mm,
                   text.y_mm, text.size_mm, text.weight == CardWeight::bold ? " class=\"b\"" : "",
                   escape_markup(text.words));
  }
  return out;
}

std::string svg_opening(const char* more) {
  return fmt::format(
      "<svg {}width=\"{:.0f}mm\" height=\"{:.0f}mm\" viewBox=\"0 0 {:.0f} {:.0f}\">\n", more,
      kCardWidthMm, kCardHeightMm, kCardWidthMm, kCardHeightMm);
}

}  // namespace

std::vector<CardPage> lay_out_card(const Card& card) {
  const auto laid = [&](double reading_mm) {
    Pages pages(card, Sizes{reading_mm});
    for (const CardBlock& block : card.blocks) pages.add(block);
    return pages.done();
  };
  // As few pages as can be, in the largest type that does with them: none has a last line alone.
  std::vector<CardPage> best = laid(kReadingSizeMm);
  for (const double reading_mm : {6.0, kWatchSizeMm}) {
    std::vector<CardPage> pages = laid(reading_mm);
    if (pages.size() < best.size()) best = std::move(pages);
  }
  return best;
}

double card_text_width_mm(const CardText& text) {
  return width_of(text.words, text.size_mm, text.weight);
}

std::string card_svg(const CardPage& page, const std::string& title) {
  return fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}<title>{}</title>\n<style>{}</style>\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{}</svg>\n",
      svg_opening("xmlns=\"http://www.w3.org/2000/svg\" "), escape_markup(title), kLooks,
      drawing(page));
}

std::string cards_html(const std::vector<Card>& cards, const std::string& title) {
  std::string out = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n<title>{}</title>\n"
      "<style>{}\n@page{{size:{:.0f}mm {:.0f}mm;margin:0}}\nbody{{margin:0;background:#ddd}}\n"
      "svg{{display:block;margin:4mm auto;background:#fff}}\n@media print{{body{{background:#fff}}"
      "svg{{margin:0;break-after:page}}}}\n</style>\n</head>\n<body>\n",
      escape_markup(title), kLooks, kCardWidthMm, kCardHeightMm);
  for (const Card& card : cards) {
    for (const CardPage& page : lay_out_card(card))
      out += svg_opening("") + drawing(page) + "</svg>\n";
  }
  return out + "</body>\n</html>\n";
}

}  // namespace loftbeat::report
