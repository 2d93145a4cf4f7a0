#include <algorithm>

#include <fmt/format.h>

#include "report/page_parts.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

std::string heading_cell(const Column& column) {
  return fmt::format("<th scope=\"col\">{} {}</th>", escape_markup(column.first),
                     escape_markup(column.second));
}

std::string body_cell(const Cell& cell) {
  if (cell.flag == Cell::Flag::none) return "<td>" + escape_markup(cell.text) + "</td>";
  return "<td class=\"raised\">" + escape_markup(cell.text) + "\u2009!</td>";
}

}  // namespace

std::string html_table(const Table& table, std::string_view caption) {
  std::string html = fmt::format(
      "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{0}\">"
      "<table><caption>{0}</caption>\n<thead><tr>",
      escape_markup(caption));
  for (const Column& column : table.columns) html += heading_cell(column);
  html += "</tr></thead>\n<tbody>\n";
  for (const auto& row : table.rows) {
    html += "<tr><th scope=\"row\">" + escape_markup(row.front().text) + "</th>";
    for (std::size_t c = 1; c < row.size(); ++c) html += body_cell(row[c]);
    html += "</tr>\n";
  }
  return html + "</tbody></table></div>\n";
}

std::string folded_table(const Table& table, std::string_view caption) {
  return fmt::format("<details><summary>{}, as a table</summary>\n{}</details>\n",
                     escape_markup(caption), html_table(table, caption));
}

std::string html_list(std::string_view tag, const std::vector<std::string>& lines) {
  std::string html = fmt::format("<{}>\n", tag);
  for (const std::string& line : lines) html += "<li>" + escape_markup(line) + "</li>\n";
  return html + fmt::format("</{}>\n", tag);
}

std::string paragraph(std::string_view words) { return "<p>" + escape_markup(words) + "</p>\n"; }

double name_margin(const practice::Review& review, const Canvas& canvas) {
  std::size_t longest = 0;
  for (std::size_t p = 0; p < review.alignment.passes.size(); ++p) {
    longest = std::max(longest, display_width(pass_name(review, static_cast<int>(p))));
  }
  const bool wide = canvas.room == Canvas::Room::wide;
  const double letter = wide ? 8.6 : 6.6;  // as wide as a letter of the drawing's text may be
  return std::clamp(letter * static_cast<double>(longest) + 12, 60.0, wide ? 330.0 : 190.0);
}

std::string on_both_canvases(const std::function<std::string(const Canvas& canvas)>& draw) {
  const Canvas wide{"w", 960, 76, 14, Canvas::Room::wide};
  const Canvas narrow{"n", 360, 48, 8, Canvas::Room::narrow};
  return "<div class=\"wide\">" + draw(wide) + "</div><div class=\"narrow\">" + draw(narrow) +
         "</div>\n";
}

}  // namespace loftbeat::report
