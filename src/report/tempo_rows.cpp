#include "report/tempo_rows.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/numbers.h"
#include "report/ribbon.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

constexpr double kRowHeight = 28;
constexpr double kTempoFoot = 26;

struct Span {
  double low;
  double high;
};

Span tempo_span(const practice::Review& review, double tolerance) {
  const double set = review.plan.tempo_bpm;
  Span span{set - 1.5 * tolerance, set + 1.5 * tolerance};
  for (const timing::PassMeasures& pass : review.timing.passes) {
    if (!pass.tempo_bpm || !std::isfinite(*pass.tempo_bpm)) continue;
    span.low = std::min(span.low, *pass.tempo_bpm - 1);
    span.high = std::max(span.high, *pass.tempo_bpm + 1);
  }
  return span;
}

std::string figure_of(const timing::PassMeasures& pass) {
  if (!pass.tempo_bpm) return "not known";
  std::string text = write_number(*pass.tempo_bpm, kTempo);
  if (pass.tempo_offset_percent) {
    text += fmt::format(" ({})", write_number(*pass.tempo_offset_percent, kSignedPercent));
  }
  return text;
}

}  // namespace

TempoRows lay_out_tempi(const practice::Review& review, const TempoFrame& frame) {
  const double set = review.plan.tempo_bpm;
  const double tolerance = set * review.plan.tolerances.tempo_percent / 100;
  const Span span = tempo_span(review, tolerance);
  const double room = frame.width - frame.left - frame.right;
  const auto x = [&](double bpm) {
    return frame.left + (bpm - span.low) / std::max(1e-9, span.high - span.low) * room;
  };
  TempoRows out;
  out.width = frame.width;
  out.set = x(set);
  out.band_begin = x(set - tolerance);
  out.band_end = x(set + tolerance);
  double y = kRowHeight / 2;
  for (const timing::PassMeasures& pass : review.timing.passes) {
    TempoRow row{pass_name(review, pass.pass), figure_of(pass), y, std::nullopt, 0, 0};
    if (pass.tempo_bpm && std::isfinite(*pass.tempo_bpm)) {
      const double unsure = pass.tempo_uncertainty_percent
                                ? *pass.tempo_bpm * *pass.tempo_uncertainty_percent / 100
                                : 0;
      row.x = x(*pass.tempo_bpm);
      row.x_low = x(*pass.tempo_bpm - unsure);
      row.x_high = x(*pass.tempo_bpm + unsure);
    }
    out.rows.push_back(std::move(row));
    y += kRowHeight;
  }
  out.height = y - kRowHeight / 2 + kTempoFoot;
  const double step = rounded_up((span.high - span.low) / (room / 60), 1);
  for (double bpm = std::ceil(span.low / step) * step; bpm <= span.high; bpm += step) {
    out.scale.emplace_back(x(bpm), write_short(bpm, {1, ""}));
  }
  return out;
}

}  // namespace loftbeat::report
