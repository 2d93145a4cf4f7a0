#include "report/page_parts.h"
#include "report/stops.h"

namespace loftbeat::report {

std::string stops_section(const practice::Review& review) {
  std::string html =
      "<section aria-labelledby=\"stops\"><h2 id=\"stops\">The stops at the joins</h2>\n";
  const Table table = stop_table(review);
  if (!table.rows.empty()) {
    html +=
        "<p class=\"soft\">Each movement at the stops, against the last key's release (+ is after "
        "it) and, with the way back to the keys, against the planned entry (+ is too late).</p>\n";
    html += html_table(table, "Stop moves");
  }
  return html + html_list("ul", stop_lines(review)) + "</section>\n";
}

}  // namespace loftbeat::report
