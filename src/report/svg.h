#pragma once

#include <string>
#include <string_view>

namespace loftbeat::report {

// Writes one inline SVG drawing. Looks are CSS classes of the page; texts are escaped here.
struct SvgHead {
  std::string id;     // unique in the page; the title's and description's ids derive from it
  std::string title;  // for a screen reader
  std::string description;
  double width = 0;
  double height = 0;
};

class Svg {
 public:
  explicit Svg(const SvgHead& head);
  void line(double x1, double y1, double x2, double y2, std::string_view look);
  void rect(double x, double y, double width, double height, std::string_view look);
  void circle(double x, double y, double radius, std::string_view look);
  // `points` as "x,y x,y ...".
  void polyline(const std::string& points, std::string_view look);
  void polygon(const std::string& points, std::string_view look);
  // `look` may name an anchor class: "mid" or "end"; otherwise the text begins at x.
  void text(double x, double y, std::string_view words, std::string_view look);
  [[nodiscard]] std::string done();

 private:
  std::string out_;
};

// "12.3,45.6 " to be strung together.
[[nodiscard]] std::string svg_point(double x, double y);

}  // namespace loftbeat::report
