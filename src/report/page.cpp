#include "report/page.h"

#include <fmt/format.h>

#include "report/page_parts.h"
#include "report/summary.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

std::string title_of(const practice::Review& review) {
  const std::string& title = review.plan.title.empty() ? review.score.title : review.plan.title;
  return title.empty() ? "Untitled hymn" : title;
}

std::string head(const practice::Review& review) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
      "<title>{}: review of {}</title>\n{}</head>\n<body>\n{}",
      escape_markup(title_of(review)), escape_markup(review.take_name), page_style(),
      page_patterns());
}

std::string header(const practice::Review& review) {
  return fmt::format("<header><h1>{}</h1>\n<p>{} {}</p>\n<p class=\"soft\">Take: {}</p></header>\n",
                     escape_markup(title_of(review)), escape_markup(tempo_line(review)),
                     escape_markup(passes_line(review)), escape_markup(review.take_name));
}

std::string advice_section(const practice::Review& review) {
  std::string html =
      "<section class=\"first\" aria-labelledby=\"first\"><h2 id=\"first\">Practise first</h2>\n";
  html += review.advice.empty()
              ? paragraph("Nothing stands out. Play it again, or take the next hymn.")
              : html_list("ol", review.advice);
  return html + "</section>\n";
}

std::string list_section(const char* id, const char* heading,
                         const std::vector<std::string>& lines) {
  if (lines.empty()) return {};
  return fmt::format("<section aria-labelledby=\"{0}\"><h2 id=\"{0}\">{1}</h2>\n{2}</section>\n",
                     id, heading, html_list("ul", lines));
}

std::vector<std::string> notice_lines(const practice::Review& review) {
  std::vector<std::string> lines;
  for (const Notice& notice : review.notices) lines.push_back(to_string(notice));
  return lines;
}

}  // namespace

std::string format_page(const practice::Review& review) {
  std::string html = head(review) + header(review) + "<main>\n";
  html += advice_section(review) + glance_section(review) + ribbon_section(review);
  html += joins_section(review) + stops_section(review) + led_section(review) +
          tempo_section(review) + trouble_section(review);
  html += list_section("way", "On the way", place_lines(review));
  html += list_section("unknown", "Not known, and why", reason_lines(review));
  html += list_section("noted", "Noted while reading", notice_lines(review));
  return html +
         "</main>\n<footer><p class=\"soft\">Reviewed by Loftbeat. Times count from the start "
         "of the take.</p></footer>\n</body></html>\n";
}

}  // namespace loftbeat::report
