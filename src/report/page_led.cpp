#include "report/led.h"
#include "report/page_parts.h"

namespace loftbeat::report {

std::string led_section(const practice::Review& review) {
  if (!review.led) return {};
  std::string html = "<section aria-labelledby=\"led\"><h2 id=\"led\">Who led</h2>\n";
  const Table table = led_table(review);
  if (!table.rows.empty()) {
    html +=
        "<p class=\"soft\">How far the people who sang along were behind the organ as they heard "
        "it, and whether your tempo gave way to them.</p>\n";
    html += html_table(table, "Who led");
  }
  return html + html_list("ul", led_lines(review)) + "</section>\n";
}

}  // namespace loftbeat::report
