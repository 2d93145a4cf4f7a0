#include <fmt/format.h>

#include "report/numbers.h"
#include "report/page_parts.h"
#include "report/summary.h"
#include "report/svg.h"
#include "report/tables.h"
#include "report/tempo_rows.h"

namespace loftbeat::report {
namespace {

std::string drawing(const practice::Review& review, const Canvas& canvas) {
  const bool wide = canvas.room == Canvas::Room::wide;
  const TempoRows view =
      lay_out_tempi(review, {canvas.width, name_margin(review, canvas), wide ? 150.0 : 100.0});
  std::string told = "Set tempo " + write_short(review.plan.tempo_bpm, {2, ""}) + ".";
  for (const TempoRow& row : view.rows) told += fmt::format(" {}: {}.", row.name, row.figure);
  Svg svg({"tempi" + canvas.suffix, "Tempo of each pass", told, view.width, view.height});
  const double bottom = view.height - 24;
  svg.rect(view.band_begin, 0, view.band_end - view.band_begin, bottom, "allowed");
  for (const auto& [x, name] : view.scale) {
    svg.line(x, 0, x, bottom, "bar");
    svg.text(x, bottom + 16, name, "soft mid");
  }
  svg.line(view.set, 0, view.set, bottom, "set");
  for (const TempoRow& row : view.rows) {
    svg.text(0, row.y + 4, row.name, "");
    svg.text(view.width, row.y + 4, row.figure, "end");
    if (!row.x) continue;
    svg.line(view.set, row.y, *row.x, row.y, "edge");
    svg.line(row.x_low, row.y, row.x_high, row.y, "whisker");
    svg.circle(*row.x, row.y, wide ? 5 : 4, "beat");
  }
  return svg.done();
}

}  // namespace

std::string tempo_section(const practice::Review& review) {
  std::string html =
      "<section aria-labelledby=\"tempo\"><h2 id=\"tempo\">Tempo of each pass</h2>\n"
      "<p class=\"soft\">Beats a minute. The upright line is the set tempo; within the ruled band "
      "a pass "
      "keeps it.</p>\n<figure>";
  html += on_both_canvases([&](const Canvas& canvas) { return drawing(review, canvas); });
  html += "</figure>\n";
  html += html_table(pass_table(review), "The passes in figures");
  html +=
      "<p class=\"soft\">Against set: how much faster (+) or slower (−) than the set tempo. Trend: "
      "last "
      "third against the first, − is slowing. Drift at end: + is behind the set tempo. Steady "
      "within: how much the beats vary about the pulse. Feet to hands: + is feet after hands. "
      "A ! marks what the advice speaks of.</p>\n";
  html += "<h3>The play-over as a promise</h3>\n" + html_list("ul", play_over_lines(review));
  return html + "</section>\n";
}

}  // namespace loftbeat::report
