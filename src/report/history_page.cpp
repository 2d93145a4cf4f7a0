#include "report/history_page.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/history_text.h"
#include "report/numbers.h"
#include "report/page_parts.h"
#include "report/svg.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

using practice::PracticeFigures;
using practice::TuneHistory;

// One figure over the practices of a tune.
struct Curve {
  std::string id;
  std::string title;
  practice::FigureOfPractice figure = nullptr;
  double tolerated = 0;
  NumberStyle style;
};

constexpr double kHeight = 150;
constexpr double kTop = 14;
constexpr double kBottom = 24;

struct Frame {
  double left = 70;
  double width = 0;
  double most = 0;
  std::size_t count = 0;
  [[nodiscard]] double x(std::size_t i) const {
    const double room = width - left - 40;
    return left + 16 +
           (count < 2 ? room / 2
                      : room * static_cast<double>(i) / (static_cast<double>(count) - 1));
  }
  [[nodiscard]] double y(double value) const {
    return kHeight - kBottom - (kHeight - kTop - kBottom) * value / most;
  }
};

void draw_dates(Svg& svg, const TuneHistory& history, const Frame& frame) {
  const std::size_t every = std::max<std::size_t>(1, (frame.count + 5) / 6);
  for (std::size_t i = 0; i < frame.count; i += every)
    svg.text(frame.x(i), kHeight - 6, history.practices[i].when.substr(5, 5), "soft mid");
}

std::string drawing(const TuneHistory& history, const Curve& curve, const Canvas& canvas) {
  Frame frame;
  frame.width = canvas.width;
  frame.count = history.practices.size();
  frame.most = 1.25 * curve.tolerated;
  std::string told;
  for (const PracticeFigures& one : history.practices) {
    const Measured<double>& value = one.*(curve.figure);
    if (value) frame.most = std::max(frame.most, *value * 1.05);
    told += one.when + ": " + write_figure(value, curve.style) + ". ";
  }
  Svg svg({curve.id + canvas.suffix, curve.title, told, canvas.width, kHeight});
  svg.rect(frame.left, frame.y(curve.tolerated), canvas.width - frame.left - 6,
           frame.y(0) - frame.y(curve.tolerated), "allowed");
  svg.line(frame.left, frame.y(0), canvas.width - 6, frame.y(0), "bar");
  svg.text(frame.left - 8, frame.y(curve.tolerated) + 4, write_number(curve.tolerated, curve.style),
           "soft end");
  svg.text(frame.left - 8, frame.y(0) + 4, "0", "soft end");
  std::string points;
  for (std::size_t i = 0; i < frame.count; ++i) {
    const Measured<double>& value = history.practices[i].*(curve.figure);
    if (value) points += svg_point(frame.x(i), frame.y(*value));
  }
  svg.polyline(points, "line");
  for (std::size_t i = 0; i < frame.count; ++i) {
    const Measured<double>& value = history.practices[i].*(curve.figure);
    if (value) svg.circle(frame.x(i), frame.y(*value), 4, "beat");
  }
  draw_dates(svg, history, frame);
  return svg.done();
}

std::string tune_section(const TuneHistory& history, std::size_t number) {
  std::string html =
      fmt::format("<section aria-labelledby=\"tune{0}\"><h2 id=\"tune{0}\">{1}</h2>\n", number,
                  escape_markup(history.tune));
  html += paragraph("Lately: " + practice::need_sentence(practice::need_of(history)) + ".");
  const std::vector<Curve> curves = {
      {fmt::format("joins{}", number), "How far the joins were off",
       &PracticeFigures::join_error_ms, 60, kMs},
      {fmt::format("steady{}", number), "Within what the beat was steady",
       &PracticeFigures::steadiness_percent, 6, kPercent},
      {fmt::format("drift{}", number), "How far verses ended from the set tempo",
       &PracticeFigures::end_drift_ms, 300, kMs}};
  for (const Curve& curve : curves) {
    const bool any = std::any_of(
        history.practices.begin(), history.practices.end(),
        [&](const PracticeFigures& one) { return static_cast<bool>(one.*(curve.figure)); });
    if (!any) continue;
    html += "<h3>" + curve.title + "</h3>\n<figure>";
    html += on_both_canvases([&](const Canvas& canvas) { return drawing(history, curve, canvas); });
    html += "</figure>\n";
  }
  if (!history.practices.empty())
    html += html_table(practices_table(history.practices), "Every practice in figures");
  if (!history.cold.empty())
    html += html_table(practices_table(history.cold), "First tries of a day, cold");
  return html + "</section>\n";
}

}  // namespace

std::string history_page(const std::vector<TuneHistory>& histories,
                         const std::vector<std::string>& left_out) {
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
      "<title>What was practised</title>\n" +
      page_style() + "</head>\n<body>\n" + page_patterns();
  html +=
      "<header><h1>What was practised</h1>\n<p class=\"soft\">Within the ruled band a figure is "
      "tolerated. Practices under a sounding click are left out, cold tries stand "
      "apart.</p></header>\n<main>\n";
  std::size_t number = 0;
  for (const TuneHistory& history : histories) html += tune_section(history, ++number);
  if (!left_out.empty())
    html += "<section><h2>Not read</h2>\n" + html_list("ul", left_out) + "</section>\n";
  return html +
         "</main>\n<footer><p class=\"soft\">Put together by "
         "Loftbeat.</p></footer>\n</body></html>\n";
}

}  // namespace loftbeat::report
