#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "practice/review.h"
#include "report/table.h"

namespace loftbeat::report {

// The parts of the page, each a piece of HTML.

[[nodiscard]] std::string page_style();     // the CSS
[[nodiscard]] std::string page_patterns();  // hatchings that the drawings share

[[nodiscard]] std::string glance_section(const practice::Review& review);
[[nodiscard]] std::string ribbon_section(const practice::Review& review);
[[nodiscard]] std::string joins_section(const practice::Review& review);
[[nodiscard]] std::string stops_section(const practice::Review& review);
[[nodiscard]] std::string led_section(const practice::Review& review);  // empty: nobody sang
[[nodiscard]] std::string tempo_section(const practice::Review& review);
[[nodiscard]] std::string trouble_section(const practice::Review& review);

// A table with its caption; the first cell of a row is its heading. Flagged cells carry "!".
[[nodiscard]] std::string html_table(const Table& table, std::string_view caption);
// The same behind a line that opens it.
[[nodiscard]] std::string folded_table(const Table& table, std::string_view caption);
[[nodiscard]] std::string html_list(std::string_view tag, const std::vector<std::string>& lines);
[[nodiscard]] std::string paragraph(std::string_view words);

// Room for names to the left of a drawing, from the longest of them.
struct Canvas;
[[nodiscard]] double name_margin(const practice::Review& review, const Canvas& canvas);

// Every drawing is made twice, for wide and for narrow screens; the page shows one of them.
struct Canvas {
  std::string suffix;  // for ids
  double width = 960;
  double left = 76;
  double right = 14;
  enum class Room { wide, narrow } room = Room::wide;
};
[[nodiscard]] std::string on_both_canvases(
    const std::function<std::string(const Canvas& canvas)>& draw);

}  // namespace loftbeat::report
