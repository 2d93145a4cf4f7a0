#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <vector>

#include <fmt/format.h>

#include "report/measure_parts.h"
#include "report/measure_tables.h"
#include "report/numbers.h"
#include "report/page_parts.h"
#include "report/ribbon.h"
#include "report/svg.h"

namespace loftbeat::report {
namespace {

constexpr double kRow = 30;
constexpr double kFoot = 30;
constexpr NumberStyle kTenths{1, ""};
constexpr NumberStyle kHundredths{2, ""};

// A horizontal or vertical scale from 0 or `low` to `high`.
struct Scale {
  double begin = 0;  // drawing units
  double end = 0;
  double low = 0;
  double high = 1;
  [[nodiscard]] double at(double value) const {
    return begin + (value - low) / std::max(1e-9, high - low) * (end - begin);
  }
};

std::vector<double> steps_of(const Scale& scale, double units_a_step) {
  const double room = std::abs(scale.end - scale.begin);
  const double step =
      rounded_up((scale.high - scale.low) / std::max(1.0, room / units_a_step), 0.1);
  std::vector<double> steps;
  for (double value = std::ceil(scale.low / step - 1e-9) * step; value <= scale.high + 1e-9;
       value += step) {
    steps.push_back(value);
  }
  return steps;
}

std::string told_pass(const advise::PassMeasure& pass) {
  if (!pass.silent_because.empty()) {
    return fmt::format("{}: {}. ", measured_pass_name(pass), pass.silent_because);
  }
  return fmt::format(
      "{}: sharpness {} acum empty, {} full; loudness {} sone empty, {} full, {} left "
      "over the singing. ",
      measured_pass_name(pass), write_number(pass.empty.sharpness_acum.value_or(0), kHundredths),
      write_number(pass.full.sharpness_acum.value_or(0), kHundredths),
      write_number(pass.empty.sone, kTenths), write_number(pass.full.sone, kTenths),
      write_number(pass.effect.over_singing_sone, kTenths));
}

void draw_grid(Svg& svg, const Scale& scale, double bottom, const char* unit) {
  for (const double value : steps_of(scale, 70)) {
    svg.line(scale.at(value), 18, scale.at(value), bottom, "bar");
    svg.text(scale.at(value), bottom + 16, write_short(value, kTenths), "soft mid");
  }
  svg.text(scale.begin, 10, unit, "soft");
}

// Where marks of one row lie, from the loudest to what is left.
void draw_marks(Svg& svg, double y, double empty, double full) {
  svg.line(empty, y, full, y, "whisker");
  svg.circle(empty, y, 5.5, "entry");
  svg.circle(full, y, 5.5, "came");
}

struct Sharpness {
  double least = 0;
  double most = 2;
};

Sharpness sharpness_range(const advise::PlanMeasures& measures) {
  Sharpness range{9, 0};
  for (const advise::PassMeasure& pass : measures.passes) {
    for (const auto& heard : {pass.empty.sharpness_acum, pass.full.sharpness_acum}) {
      if (!heard) continue;
      range.least = std::min(range.least, *heard);
      range.most = std::max(range.most, *heard);
    }
  }
  if (range.most <= 0) return {0, 2};
  return {std::floor(range.least * 5 - 0.2) / 5, std::ceil(range.most * 5 + 0.2) / 5};
}

double most_sone(const advise::PlanMeasures& measures) {
  double most = 1;
  for (const advise::PassMeasure& pass : measures.passes) most = std::max(most, pass.empty.sone);
  return most;
}

std::string passes_drawing(const advise::PlanMeasures& measures, const Canvas& canvas) {
  const bool wide = canvas.room == Canvas::Room::wide;
  const double left = wide ? 110 : 72;
  const double gap = wide ? 50 : 26;
  const double half = (canvas.width - left - gap - canvas.right) / 2;
  const double bottom = 22 + kRow * static_cast<double>(measures.passes.size());
  const Sharpness sharp = sharpness_range(measures);
  const Scale acum{left, left + half, sharp.least, sharp.most};
  const Scale sone{left + half + gap, canvas.width - canvas.right, 0, most_sone(measures) * 1.05};
  std::string told;
  for (const advise::PassMeasure& pass : measures.passes) told += told_pass(pass);
  Svg svg({"passes" + canvas.suffix, "Sharpness and loudness of each pass", told, canvas.width,
           bottom + kFoot});
  draw_grid(svg, acum, bottom, wide ? "sharpness, acum" : "acum");
  draw_grid(svg, sone, bottom, wide ? "loudness, sone" : "sone");
  double y = 22 + kRow / 2;
  for (const advise::PassMeasure& pass : measures.passes) {
    svg.text(0, y + 4, measured_pass_name(pass), "");
    if (!pass.silent_because.empty()) {
      svg.text(left, y + 4, pass.silent_because, "soft");
    } else {
      if (pass.empty.sharpness_acum && pass.full.sharpness_acum) {
        draw_marks(svg, y, acum.at(*pass.empty.sharpness_acum), acum.at(*pass.full.sharpness_acum));
      }
      const double over = sone.at(pass.effect.over_singing_sone);
      svg.line(over, y, sone.at(pass.full.sone), y, "gap");
      draw_marks(svg, y, sone.at(pass.empty.sone), sone.at(pass.full.sone));
      svg.rect(over - 5, y - 5, 10, 10, "chord");
    }
    y += kRow;
  }
  return svg.done();
}

// What a bar is made of, from the bottom up.
struct Layer {
  double sone = 0;
  const char* look = "";
};

std::array<Layer, 4> layers_of(const advise::PassMeasure& pass, std::size_t i) {
  const room::OctaveEffect& octave = pass.effect.octaves[i];
  const double left = std::max(0.0, octave.over_singing_sone);
  const double upper = pass.upper ? std::clamp(pass.upper->gives_sone[i], 0.0, left) : 0.0;
  return {{{left - upper, "chord"},
           {upper, "entry"},
           {std::max(0.0, octave.lost_by_masking_sone()), "behind"},
           {std::max(0.0, octave.lost_by_absorption_sone()), "ahead"}}};
}

std::string octave_label(double hz) {
  return hz < 1000 ? write_short(hz, {0, ""}) : write_short(hz / 1000, {0, "k"});
}

std::string told_octaves(const advise::PassMeasure& pass) {
  std::string told;
  for (const room::OctaveEffect& octave : pass.effect.octaves) {
    told += fmt::format(
        "{} Hz: {} sone in the empty church, {} lost by absorption, {} by masking, {} "
        "left. ",
        octave_label(octave.nominal_hz), write_number(octave.empty_sone, kTenths),
        write_number(octave.lost_by_absorption_sone(), kTenths),
        write_number(octave.lost_by_masking_sone(), kTenths),
        write_number(octave.over_singing_sone, kTenths));
  }
  return told;
}

std::string octave_drawing(const PictureOrder& order, const Canvas& canvas) {
  const bool wide = canvas.room == Canvas::Room::wide;
  const double height = wide ? 240 : 190;
  const double left = 34;
  const double bottom = height - kFoot;
  const Scale sone{bottom, 16, 0, order.top_sone};
  const double step = (canvas.width - left - canvas.right) / room::kOctaveCount;
  Svg svg({fmt::format("octaves{}{}", order.number, canvas.suffix),
           "Loudness by octave, " + measured_pass_name(order.pass), told_octaves(order.pass),
           canvas.width, height});
  for (const double value : steps_of(sone, 45)) {
    svg.line(left, sone.at(value), canvas.width - canvas.right, sone.at(value), "bar");
    svg.text(left - 6, sone.at(value) + 4, write_short(value, kTenths), "soft end");
  }
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) {
    const double x = left + step * (static_cast<double>(i) + 0.16);
    double from = 0;
    for (const Layer& layer : layers_of(order.pass, i)) {
      const double top = sone.at(from + layer.sone);
      if (layer.sone > 0) svg.rect(x, top, step * 0.68, sone.at(from) - top, layer.look);
      from += layer.sone;
    }
    svg.rect(x, sone.at(from), step * 0.68, bottom - sone.at(from), "outline");
    svg.text(x + step * 0.34, bottom + 16, octave_label(room::kOctaveHz[i]), "soft mid");
  }
  svg.text(0, 10, wide ? "sone in each octave, Hz below" : "sone", "soft");
  return svg.done();
}

struct PeopleLine {
  const char* name;
  const char* look;
  double hearing::OverSinging::*sone;
};
constexpr std::array<PeopleLine, 3> kLines = {
    {{"lead", "line", &hearing::OverSinging::lead_sone},
     {"support", "planned", &hearing::OverSinging::support_sone},
     {"exposure", "dotted", &hearing::OverSinging::exposure_sone}}};

// Names at the ends of lines, moved apart where the lines end close together.
std::array<double, 3> label_places(const std::array<double, 3>& ends, double apart) {
  std::array<std::size_t, 3> order = {0, 1, 2};
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return ends[a] > ends[b]; });
  std::array<double, 3> places = ends;
  for (std::size_t i = 1; i < order.size(); ++i) {
    places[order[i]] = std::min(places[order[i]], places[order[i - 1]] - apart);
  }
  return places;
}

std::string told_people(const advise::PassMeasure& pass) {
  std::string told;
  for (const advise::HeadCount& count : pass.heads) {
    told += fmt::format("{} people: lead {} sone, support {}, exposure {}. ", count.people,
                        write_number(count.with_people.lead_sone, kTenths),
                        write_number(count.with_people.support_sone, kTenths),
                        write_number(count.with_people.exposure_sone, kTenths));
  }
  return told;
}

std::string people_drawing(const PictureOrder& order, const Canvas& canvas) {
  const bool wide = canvas.room == Canvas::Room::wide;
  const double height = wide ? 220 : 180;
  const double bottom = height - kFoot;
  const double left = 34;
  const Scale sone{bottom, 16, 0, order.top_sone};
  const auto& heads = order.pass.heads;
  const Scale people{left + 10, canvas.width - 74, std::log(heads.front().people),
                     std::log(heads.back().people)};
  const auto x = [&](int count) { return people.at(std::log(count)); };
  Svg svg({fmt::format("people{}{}", order.number, canvas.suffix),
           "Lead, support and exposure by number of people, " + measured_pass_name(order.pass),
           told_people(order.pass), canvas.width, height});
  for (const double value : steps_of(sone, 45)) {
    svg.line(left, sone.at(value), canvas.width - 74, sone.at(value), "bar");
    svg.text(left - 6, sone.at(value) + 4, write_short(value, kTenths), "soft end");
  }
  for (const advise::HeadCount& count : heads) {
    if (!wide && (count.people == 150 || count.people == 200)) continue;
    svg.text(x(count.people), bottom + 16, std::to_string(count.people), "soft mid");
  }
  std::array<double, 3> ends{};
  for (std::size_t l = 0; l < kLines.size(); ++l) {
    std::string points;
    for (const advise::HeadCount& count : heads) {
      const double y = sone.at(std::max(0.0, count.with_people.*kLines[l].sone));
      points += svg_point(x(count.people), y);
      ends[l] = y;
    }
    svg.polyline(points, kLines[l].look);
  }
  const auto places = label_places(ends, 15);
  for (std::size_t l = 0; l < kLines.size(); ++l) {
    svg.text(canvas.width - 70, places[l] + 4, kLines[l].name, "");
  }
  svg.text(0, 10, wide ? "sone over the singing; people below" : "sone", "soft");
  return svg.done();
}

}  // namespace

std::string passes_picture(const advise::PlanMeasures& measures) {
  return on_both_canvases([&](const Canvas& canvas) { return passes_drawing(measures, canvas); });
}

std::string octave_picture(const PictureOrder& order) {
  return on_both_canvases([&](const Canvas& canvas) { return octave_drawing(order, canvas); });
}

std::string people_picture(const PictureOrder& order) {
  return on_both_canvases([&](const Canvas& canvas) { return people_drawing(order, canvas); });
}

double top_of_octaves(const advise::PlanMeasures& measures) {
  double top = 0.5;
  for (const advise::PassMeasure& pass : measures.passes) {
    for (const room::OctaveEffect& octave : pass.effect.octaves)
      top = std::max(top, octave.empty_sone);
  }
  return top;
}

double top_of_people(const advise::PlanMeasures& measures) {
  double top = 0.5;
  for (const advise::PassMeasure& pass : measures.passes) {
    for (const advise::HeadCount& count : pass.heads) {
      for (const PeopleLine& line : kLines) top = std::max(top, count.with_people.*line.sone);
    }
  }
  return top;
}

}  // namespace loftbeat::report
