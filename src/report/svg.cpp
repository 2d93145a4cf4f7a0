#include "report/svg.h"

#include <iterator>

#include <fmt/format.h>

#include "report/utf8.h"

namespace loftbeat::report {

Svg::Svg(const SvgHead& head) {
  out_ = fmt::format(
      "<svg viewBox=\"0 0 {0:.0f} {1:.0f}\" role=\"img\" aria-labelledby=\"{2}-t {2}-d\">\n"
      "<title id=\"{2}-t\">{3}</title>\n<desc id=\"{2}-d\">{4}</desc>\n",
      head.width, head.height, head.id, escape_markup(head.title), escape_markup(head.description));
}

void Svg::line(double x1, double y1, double x2, double y2, std::string_view look) {
  fmt::format_to(std::back_inserter(out_),
                 "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" class=\"{}\"/>\n",
                 x1, y1, x2, y2, look);
}

void Svg::rect(double x, double y, double width, double height, std::string_view look) {
  fmt::format_to(
      std::back_inserter(out_),
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" class=\"{}\"/>\n", x, y,
      width, height, look);
}

void Svg::circle(double x, double y, double radius, std::string_view look) {
  fmt::format_to(std::back_inserter(out_),
                 "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" class=\"{}\"/>\n", x, y, radius,
                 look);
}

void Svg::polyline(const std::string& points, std::string_view look) {
  fmt::format_to(std::back_inserter(out_), "<polyline points=\"{}\" class=\"{}\"/>\n", points,
                 look);
}

void Svg::polygon(const std::string& points, std::string_view look) {
  fmt::format_to(std::back_inserter(out_), "<polygon points=\"{}\" class=\"{}\"/>\n", points, look);
}

void Svg::text(double x, double y, std::string_view words, std::string_view look) {
  fmt::format_to(std::back_inserter(out_),
                 "<text x=\"{:.1f}\" y=\"{:.1f}\" class=\"{}\">{}</text>\n", x, y, look,
                 escape_markup(words));
}

std::string Svg::done() {
  out_ += "</svg>\n";
  return std::move(out_);
}

std::string svg_point(double x, double y) { return fmt::format("{:.1f},{:.1f} ", x, y); }

}  // namespace loftbeat::report
