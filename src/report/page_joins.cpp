#include <cmath>

#include <fmt/format.h>

#include "report/join_strip.h"
#include "report/numbers.h"
#include "report/page_parts.h"
#include "report/svg.h"
#include "report/tables.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

constexpr double kPlannedY = 8;
constexpr double kPlayedY = 30;
constexpr double kBarHeight = 14;
constexpr double kBeatNamesY = 68;

std::string silence_words(const timing::JoinMeasures& join) {
  if (!std::isfinite(join.silence_s)) return {};
  if (join.silence_s < 0) return "no silence";
  return "silence " + write_number(join.silence_s, kSeconds);
}

std::string error_words(const timing::JoinMeasures& join) {
  std::string text;
  if (join.count_error_beats && *join.count_error_beats != 0) {
    const int count = std::abs(*join.count_error_beats);
    text = fmt::format("{} {} too {}", count, count == 1 ? "beat" : "beats",
                       *join.count_error_beats > 0 ? "many" : "few");
  }
  if (join.phase_error_ms) {
    if (!text.empty()) text += ", then ";
    text += write_signed_span(*join.phase_error_ms);
    if (join.uncertainty_ms) text += fmt::format(" (±{})", write_number(*join.uncertainty_ms, kMs));
  }
  return text;
}

std::string diamond(double x, double y) {
  return svg_point(x, y - 8) + svg_point(x + 6, y) + svg_point(x, y + 8) + svg_point(x - 6, y);
}

class JoinPainter {
 public:
  JoinPainter(const SvgHead& head, const JoinRow& row, const Canvas& canvas)
      : svg_(head), row_(row), wide_(canvas.room == Canvas::Room::wide) {}

  std::string done(const std::string& silence) {
    if (row_.tolerance) {
      svg_.rect(row_.tolerance->begin, 2, row_.tolerance->end - row_.tolerance->begin, 52,
                "allowed");
    }
    for (std::size_t i = 0; i < row_.beat_lines.size(); ++i) {
      svg_.line(row_.beat_lines[i], 2, row_.beat_lines[i], 54, "bar");
      svg_.text(row_.beat_lines[i], kBeatNamesY, row_.beat_names[i], "soft mid");
    }
    svg_.text(row_.left - 8, kPlannedY + 11, wide_ ? "planned" : "plan", "soft end");
    svg_.text(row_.left - 8, kPlayedY + 11, "played", "soft end");
    svg_.text(row_.left - 8, kBeatNamesY, "beats", "soft end");
    planned();
    played(silence);
    return svg_.done();
  }

 private:
  void planned() {
    const double y = kPlannedY + kBarHeight / 2;
    double chord_end = row_.left;
    if (row_.planned_hold) {
      chord_end = row_.planned_hold->end;
      svg_.rect(row_.planned_hold->begin, kPlannedY, chord_end - row_.planned_hold->begin,
                kBarHeight, "planned");
      svg_.text(row_.planned_hold->begin + 6, kPlannedY + 11, "chord", "soft");
    }
    if (!row_.planned_entry) {
      svg_.text(row_.left + 6, kPlannedY + 11, "nothing planned", "soft");
      return;
    }
    svg_.line(chord_end, y, *row_.planned_entry, y, "gap");
    svg_.polygon(diamond(*row_.planned_entry, y), "entry");
  }

  void played(const std::string& silence) {
    const double y = kPlayedY + kBarHeight / 2;
    double chord_end = row_.left;
    if (row_.played_hold) {
      chord_end = row_.played_hold->end;
      svg_.rect(row_.played_hold->begin, kPlayedY, chord_end - row_.played_hold->begin, kBarHeight,
                "chord");
    }
    if (!row_.played_entry) return;
    const double entry = *row_.played_entry;
    if (entry > chord_end) svg_.line(chord_end, y, entry, y, "gap");
    const double room = entry - chord_end - 16;
    if (room > (wide_ ? 7.0 : 6.0) * static_cast<double>(silence.size())) {
      svg_.text((chord_end + entry) / 2, kPlayedY + 10, silence, "mid halo");
    }
    svg_.polygon(diamond(entry, y), "came");
    if (row_.planned_entry) {
      svg_.line(*row_.planned_entry, kPlayedY + 22, entry, kPlayedY + 22, "miss");
    }
  }

  Svg svg_;
  const JoinRow& row_;
  bool wide_;
};

std::string join_figure(const practice::Review& review, std::size_t index, double beats) {
  const timing::JoinMeasures& join = review.timing.joins[index];
  const std::string name = join_name(review, join);
  const std::string error = error_words(join);
  const std::string silence = silence_words(join);
  std::string html = fmt::format("<figure><h3>{}: {} <small>{}</small></h3>\n", escape_markup(name),
                                 verdict_words(join.verdict),
                                 escape_markup(error + (error.empty() ? "" : "; ") + silence));
  html += on_both_canvases([&](const Canvas& canvas) {
    const JoinRow row =
        lay_out_join(review, join, beats, {canvas.width, canvas.left, canvas.right});
    const std::string told =
        fmt::format("Held {} beats, lifted {}, in all {}; planned {}. {}.",
                    write_figure(join.hold_beats, kBeats), write_figure(join.lift_beats, kBeats),
                    write_figure(join.span_beats, kBeats),
                    write_figure(join.planned_span_beats, kBeats), silence);
    const SvgHead head{fmt::format("join{}{}", index, canvas.suffix), "Join strip of " + name, told,
                       row.width, row.height};
    return JoinPainter(head, row, canvas).done(silence);
  });
  return html + "</figure>\n";
}

}  // namespace

std::string joins_section(const practice::Review& review) {
  if (review.timing.joins.empty()) return {};
  std::string html = "<section aria-labelledby=\"joins\"><h2 id=\"joins\">The join strip</h2>\n";
  html +=
      "<p class=\"soft\">From the last chord (beat 0) to the entry of the next pass. Above, what "
      "was "
      "planned: the chord and, after the silence, the entry (open diamond). Below, what you "
      "played: the chord as long as it sounded, the silence, your entry (full diamond). In the "
      "ruled band an entry is in time; the thick line is the error.</p>\n";
  const double beats = strip_beats(review);
  for (std::size_t i = 0; i < review.timing.joins.size(); ++i) {
    html += join_figure(review, i, beats);
  }
  return html + html_table(join_table(review), "The joins in figures") + "</section>\n";
}

}  // namespace loftbeat::report
