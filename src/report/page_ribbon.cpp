#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/numbers.h"
#include "report/page_parts.h"
#include "report/ribbon.h"
#include "report/svg.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

using Corner = std::pair<double, double>;

// The line of a run with the points added at which it crosses the line of the set tempo.
std::vector<Corner> with_crossings(const RibbonRun& run, double zero) {
  std::vector<Corner> corners;
  for (const RibbonBeat& beat : run) {
    if (!corners.empty()) {
      const auto [x, y] = corners.back();
      if ((y - zero) * (beat.y - zero) < 0) {
        corners.emplace_back(x + (beat.x - x) * (zero - y) / (beat.y - y), zero);
      }
    }
    corners.emplace_back(beat.x, beat.y);
  }
  return corners;
}

enum class Half { ahead, behind };

std::string half_area(const std::vector<Corner>& corners, double zero, Half half) {
  std::string points = svg_point(corners.front().first, zero);
  for (const auto& [x, y] : corners) {
    points += svg_point(x, half == Half::ahead ? std::min(y, zero) : std::max(y, zero));
  }
  return points + svg_point(corners.back().first, zero);
}

std::string_view letter(RibbonMark::Kind kind) {
  switch (kind) {
    case RibbonMark::Kind::hesitation: return "h";
    case RibbonMark::Kind::correction: return "c";
    case RibbonMark::Kind::restart: return "r";
    case RibbonMark::Kind::breath: break;
  }
  return "’";
}

std::string span_words(double ms) {
  return ms < 1000 ? write_number(ms, kMs) : write_short(ms / 1000, {1, " s"});
}

class RibbonPainter {
 public:
  RibbonPainter(const SvgHead& head, const Ribbon& ribbon, const Canvas& canvas)
      : svg_(head), ribbon_(ribbon), wide_(canvas.room == Canvas::Room::wide) {}

  std::string done(const RibbonScale& scale) {
    ground();
    for (const RibbonRun& run : ribbon_.runs) {
      if (!run.empty()) area(run);
    }
    svg_.line(ribbon_.left, ribbon_.zero, ribbon_.right, ribbon_.zero, "set");
    for (const RibbonRun& run : ribbon_.runs) beats(run);
    for (const RibbonMark& mark : ribbon_.marked) {
      const bool breath = mark.kind == RibbonMark::Kind::breath;
      svg_.text(breath ? mark.x - 7 : mark.x + 2, breath ? ribbon_.marks + 8 : ribbon_.marks,
                letter(mark.kind), breath ? "mid breath" : "sign");
    }
    margin(scale);
    return svg_.done();
  }

 private:
  void ground() {
    const double bottom = ribbon_.fringe + 16;
    for (std::size_t i = 0; i < ribbon_.phrases.size(); ++i) {
      const double begin = ribbon_.phrases[i].x;
      const double end = i + 1 < ribbon_.phrases.size() ? ribbon_.phrases[i + 1].x : ribbon_.right;
      if (i % 2 == 0) svg_.rect(begin, 0, end - begin, bottom, "phrase");
      svg_.line(begin, 0, begin, bottom, "phraseline");
      svg_.text(begin + 4, 13, (wide_ ? "phrase " : "") + ribbon_.phrases[i].text, "soft");
    }
    for (const RibbonLabel& bar : ribbon_.bars) {
      svg_.line(bar.x, ribbon_.top, bar.x, bottom, "bar");
      if (!bar.text.empty()) svg_.text(bar.x + 2, bottom + 14, bar.text, "soft");
    }
    for (const RibbonStep& step : ribbon_.steps) {
      svg_.line(ribbon_.left, step.y, ribbon_.right, step.y, "edge");
    }
  }

  void area(const RibbonRun& run) {
    const std::vector<Corner> corners = with_crossings(run, ribbon_.zero);
    svg_.polygon(half_area(corners, ribbon_.zero, Half::ahead), "ahead");
    svg_.polygon(half_area(corners, ribbon_.zero, Half::behind), "behind");
  }

  void beats(const RibbonRun& run) {
    std::string points;
    for (const RibbonBeat& beat : run) points += svg_point(beat.x, beat.y);
    if (run.size() > 1) svg_.polyline(points, "line");
    for (const RibbonBeat& beat : run) {
      const bool struck = beat.kind == RibbonBeat::Kind::struck;
      svg_.circle(beat.x, beat.y, wide_ ? 2.6 : 1.6, struck ? "beat" : "silent");
      if (struck) svg_.line(beat.x, ribbon_.fringe, beat.x, beat.fringe_y, "fringe");
    }
    if (!run.empty()) {
      svg_.line(run.front().x, ribbon_.fringe, run.back().x, ribbon_.fringe, "bar");
    }
  }

  void margin(const RibbonScale& scale) {
    const double x = ribbon_.left - 6;
    svg_.text(x, ribbon_.zero - 5, "ahead", "soft end");
    svg_.text(x, ribbon_.zero + 13, "behind", "soft end");
    double free_below = ribbon_.zero + 24;
    for (const RibbonStep& step : ribbon_.steps) {
      const bool below = step.drift_ms > 0;
      const bool room = below ? step.y - 4 >= free_below : step.y <= ribbon_.zero - 18;
      if (!room) continue;
      svg_.text(x, step.y + 4, span_words(std::abs(step.drift_ms)), "soft end");
      if (below) free_below = step.y + 12;
    }
    svg_.text(x, ribbon_.fringe, "pulse", "soft end");
    svg_.text(x, ribbon_.fringe + 13, "±" + write_number(scale.pulse_ms, kMs), "soft end");
  }

  Svg svg_;
  const Ribbon& ribbon_;
  bool wide_;
};

std::string description(const timing::PassMeasures& pass) {
  std::string text = fmt::format("{} beats against the line of the set tempo.", pass.beats.size());
  if (pass.end_drift_ms) {
    text += fmt::format(" At the end (its last two beats left out) {} {}.",
                        write_signed_span(*pass.end_drift_ms),
                        *pass.end_drift_ms < 0 ? "(ahead)" : "(behind)");
  }
  text += fmt::format(" {} hesitations, {} breaths.", pass.hesitations.size(), pass.breaths.size());
  return text + " The figures follow in a table.";
}

std::string figures_beside(const timing::PassMeasures& pass) {
  if (!pass.tempo_bpm) return "tempo not known";
  std::string text = "tempo " + write_number(*pass.tempo_bpm, kTempo);
  if (pass.tempo_offset_percent) {
    text +=
        ", " + write_number(*pass.tempo_offset_percent, kSignedPercent) + " against the set tempo";
  }
  return text;
}

Table beat_table(const timing::PassMeasures& pass) {
  Table table;
  table.columns = {{"", "Bar"},   {"", "Beat"},          {"", "Played at"},
                   {"", "Drift"}, {"", "Running drift"}, {"", "Behind pulse"}};
  const auto span = [](const Measured<double>& ms) {
    return ms ? write_signed_span(*ms) : std::string("–");
  };
  for (const timing::Beat& beat : pass.beats) {
    table.rows.push_back(
        {{beat.bar},
         {write_short(beat.beat, kBeats)},
         {beat.played_s ? write_clock(*beat.played_s) + (beat.struck ? "" : " (not struck)") : "–"},
         {span(beat.drift_ms)},
         {span(beat.running_drift_ms)},
         {beat.struck ? write_signed_span(beat.pulse_ms) : "–"}});
  }
  return table;
}

std::string pass_figure(const practice::Review& review, const timing::PassMeasures& pass,
                        const RibbonScale& scale) {
  const std::string name = pass_name(review, pass.pass);
  std::string html = fmt::format("<figure><h3>{} <small>{}</small></h3>\n", escape_markup(name),
                                 escape_markup(figures_beside(pass)));
  html += on_both_canvases([&](const Canvas& canvas) {
    const Ribbon ribbon = lay_out_ribbon(review, pass, scale,
                                         {canvas.width, canvas.left, canvas.right,
                                          canvas.room == Canvas::Room::wide ? 110.0 : 90.0});
    const SvgHead head{fmt::format("ribbon{}{}", pass.pass, canvas.suffix),
                       "Beat ribbon of " + name, description(pass), ribbon.width, ribbon.height};
    return RibbonPainter(head, ribbon, canvas).done(scale);
  });
  return html + folded_table(beat_table(pass), "Every beat of " + name) + "</figure>\n";
}

}  // namespace

std::string ribbon_section(const practice::Review& review) {
  std::string html = "<section aria-labelledby=\"beat\"><h2 id=\"beat\">The beat ribbon</h2>\n";
  html +=
      "<p class=\"soft\">Each beat at its place in the tune. The straight line is the set tempo: "
      "the ribbon hangs below it (hatched) where you were behind, and rises above it (dotted) "
      "where you were ahead. Under it, bars show each beat against the pass’s own pulse: "
      "hanging is late; a hollow dot marks a beat on which nothing is struck. Letters: h "
      "hesitation, c correction, r went back to here, ’ breath.</p>\n";
  const RibbonScale scale = ribbon_scale(review);
  for (const timing::PassMeasures& pass : review.timing.passes) {
    html += pass_figure(review, pass, scale);
  }
  return html + "</section>\n";
}

}  // namespace loftbeat::report
