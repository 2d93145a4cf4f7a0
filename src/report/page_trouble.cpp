#include <algorithm>

#include <fmt/format.h>

#include "report/page_parts.h"
#include "report/svg.h"
#include "report/trouble.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

constexpr double kLane = 46;
constexpr double kReach = 13;  // of the largest count
constexpr double kTroubleFoot = 20;
constexpr double kRoomForFigure = 16;

class TroublePainter {
 public:
  TroublePainter(const SvgHead& head, const TroubleTable& table, const Canvas& canvas, double left)
      : svg_(head), table_(table), left_(left) {
    const auto count = static_cast<double>(std::max<std::size_t>(1, table.bars.size()));
    step_ = (canvas.width - left - canvas.right) / count;
    every_ = step_ < 24 ? static_cast<std::size_t>(24 / step_) + 1 : 1;
  }

  std::string done(const std::vector<std::string>& names) {
    for (std::size_t p = 0; p < names.size(); ++p) lane(names[p], table_.passes[p], p);
    const double foot = static_cast<double>(names.size()) * kLane + 13;
    for (std::size_t b = 0; b < table_.bars.size(); b += every_) {
      svg_.text(middle(b), foot, table_.bars[b], "soft mid");
    }
    svg_.text(0, foot, "bar", "soft");
    return svg_.done();
  }

 private:
  [[nodiscard]] double middle(std::size_t bar) const {
    return left_ + (static_cast<double>(bar) + 0.5) * step_;
  }

  void lane(const std::string& name, const std::vector<BarTrouble>& bars, std::size_t index) {
    const double base = (static_cast<double>(index) + 0.5) * kLane;
    svg_.text(0, base + 4, name, "");
    svg_.line(left_, base, left_ + step_ * static_cast<double>(bars.size()), base, "bar");
    for (std::size_t b = 0; b < bars.size(); ++b) {
      if (bars[b].wrong > 0) column(b, base, -1, bars[b].wrong);
      if (bars[b].missed > 0) column(b, base, 1, bars[b].missed);
    }
  }

  // `way` is -1 for up (wrong), 1 for down (missed).
  void column(std::size_t bar, double base, int way, int count) {
    const double height = std::max(4.0, kReach * count / std::max(1, table_.most));
    const double width = std::clamp(step_ - 3, 2.0, 14.0);
    const double top = way < 0 ? base - height : base;
    svg_.rect(middle(bar) - width / 2, top, width, height, way < 0 ? "wrong" : "missed");
    if (step_ < kRoomForFigure) return;
    svg_.text(middle(bar) + width / 2 + 3, way < 0 ? base - 3 : base + 11, std::to_string(count),
              "");
  }

  Svg svg_;
  const TroubleTable& table_;
  double left_;
  double step_ = 0;
  std::size_t every_ = 1;
};

Table as_table(const TroubleTable& trouble, const std::vector<std::string>& names) {
  Table table;
  table.columns = {{"", "Pass"}, {"", "Bar"}, {"Wrong", "notes"}, {"Missed", "notes"}};
  for (std::size_t p = 0; p < names.size(); ++p) {
    for (std::size_t b = 0; b < trouble.bars.size(); ++b) {
      const BarTrouble& bar = trouble.passes[p][b];
      if (bar.wrong == 0 && bar.missed == 0) continue;
      table.rows.push_back({{names[p]},
                            {trouble.bars[b]},
                            {std::to_string(bar.wrong)},
                            {std::to_string(bar.missed)}});
    }
  }
  return table;
}

}  // namespace

std::string trouble_section(const practice::Review& review) {
  std::string html =
      "<section aria-labelledby=\"notes\"><h2 id=\"notes\">Note trouble by bar</h2>\n";
  const TroubleTable trouble = count_trouble(review);
  if (trouble.most == 0) return html + paragraph("No wrong and no missed notes.") + "</section>\n";
  html +=
      "<p class=\"soft\">Full columns above the line: wrong notes. Open columns below it: notes "
      "missed. Trouble in the same bar of several verses is where to practise.</p>\n<figure>";
  std::vector<std::string> names;
  for (std::size_t p = 0; p < trouble.passes.size(); ++p) {
    names.push_back(pass_name(review, static_cast<int>(p)));
  }
  html += on_both_canvases([&](const Canvas& canvas) {
    const double height = static_cast<double>(names.size()) * kLane + kTroubleFoot;
    const SvgHead head{"trouble" + canvas.suffix, "Wrong and missed notes by bar and pass",
                       "The figures follow in a table.", canvas.width, height};
    return TroublePainter(head, trouble, canvas, name_margin(review, canvas)).done(names);
  });
  return html + folded_table(as_table(trouble, names), "Wrong and missed notes by bar") +
         "</figure></section>\n";
}

}  // namespace loftbeat::report
