#include "report/ribbon.h"

#include <algorithm>
#include <cmath>

#include "report/summary.h"

namespace loftbeat::report {
namespace {

constexpr double kHead = 34;         // phrase names and marks above the scale
constexpr double kLeastReach = 22;   // from the line of the set tempo, up and down
constexpr double kFringeReach = 16;  // up and down from its base line
constexpr double kRibbonFoot = 18;   // bar numbers
constexpr double kMostPulse = 250;   // ms; a beat further from its pulse ends at the edge
constexpr double kNumberRoom = 26;   // for one bar number

bool shown(const Measured<double>& figure) { return figure && std::isfinite(*figure); }

class RibbonLayout {
 public:
  RibbonLayout(const practice::Review& review, const timing::PassMeasures& pass,
               const RibbonScale& scale, const RibbonFrame& frame)
      : review_(review), pass_(pass), scale_(scale), frame_(frame) {
    ribbon_.width = frame.width;
    ribbon_.left = frame.left;
    ribbon_.right = frame.width - frame.right;
    ribbon_.marks = kHead - 7;
    ribbon_.top = kHead;
    const Reach reach = own_reach();
    ribbon_.zero = kHead + reach.ahead;
    ribbon_.bottom = ribbon_.zero + reach.behind;
    ribbon_.fringe = ribbon_.bottom + 8 + kFringeReach;
    ribbon_.height = ribbon_.fringe + kFringeReach + kRibbonFoot;
  }

  Ribbon done() {
    steps();
    beats();
    marks();
    phrases();
    bars();
    return std::move(ribbon_);
  }

 private:
  struct Reach {
    double ahead = kLeastReach;
    double behind = kLeastReach;
  };

  // How far this pass's own drift reaches up and down.
  [[nodiscard]] Reach own_reach() const {
    Reach reach;
    for (const timing::Beat& beat : pass_.beats) {
      if (!beat.struck || !shown(beat.drift_ms)) continue;
      reach.behind = std::max(reach.behind, length(*beat.drift_ms));
      reach.ahead = std::max(reach.ahead, length(-*beat.drift_ms));
    }
    return reach;
  }

  // In the drawing's units, never beyond the end of the scale.
  [[nodiscard]] double length(double drift_ms) const {
    return std::clamp(drift_ms / scale_.drift_ms, -1.0, 1.0) * frame_.reach;
  }

  void steps() {
    if (!(scale_.step_ms > 0)) return;
    for (double ms = scale_.step_ms;
         ribbon_.zero - length(ms) >= ribbon_.top && ms <= scale_.drift_ms; ms += scale_.step_ms) {
      ribbon_.steps.push_back({y(-ms), -ms});
    }
    for (double ms = scale_.step_ms; y(ms) <= ribbon_.bottom && ms <= scale_.drift_ms;
         ms += scale_.step_ms) {
      ribbon_.steps.push_back({y(ms), ms});
    }
  }

  [[nodiscard]] double x(Tick at) const {
    const double length = std::max(1.0, quarters(review_.score.length));
    return ribbon_.left + quarters(at) / length * (ribbon_.right - ribbon_.left);
  }

  [[nodiscard]] double y(double drift_ms) const { return ribbon_.zero + length(drift_ms); }

  [[nodiscard]] double fringe_y(double pulse_ms) const {
    return ribbon_.fringe + std::clamp(pulse_ms / scale_.pulse_ms, -1.0, 1.0) * kFringeReach;
  }

  void beats() {
    const Tick beat = plan::ticks(review_.plan.beat);
    Tick expected = -1;  // of the next beat, if the line goes on to it
    for (const timing::Beat& b : pass_.beats) {
      if (left_out(b.tick) || !shown(b.drift_ms)) continue;
      if (b.tick != expected || ribbon_.runs.empty()) ribbon_.runs.emplace_back();
      expected = b.tick + beat;
      const auto kind = b.struck ? RibbonBeat::Kind::struck : RibbonBeat::Kind::not_struck;
      ribbon_.runs.back().push_back({x(b.tick), y(*b.drift_ms), fringe_y(b.struck ? b.pulse_ms : 0),
                                     kind, static_cast<std::size_t>(&b - pass_.beats.data())});
    }
  }

  [[nodiscard]] bool left_out(Tick at) const {
    const auto& omissions =
        review_.alignment.passes.at(static_cast<std::size_t>(pass_.pass)).omissions;
    return std::any_of(omissions.begin(), omissions.end(),
                       [&](const follow::Omission& o) { return o.left_out.contains(at); });
  }

  void mark(Tick at, RibbonMark::Kind kind) { ribbon_.marked.push_back({x(at), kind}); }

  void marks() {
    const follow::AlignedPass& aligned =
        review_.alignment.passes.at(static_cast<std::size_t>(pass_.pass));
    for (const auto& h : pass_.hesitations) mark(h.at, RibbonMark::Kind::hesitation);
    for (const auto& b : pass_.breaths) mark(b.at, RibbonMark::Kind::breath);
    for (const auto& c : aligned.corrections) mark(c.tick, RibbonMark::Kind::correction);
    for (const auto& r : aligned.restarts)
      if (!r.planned) mark(r.to, RibbonMark::Kind::restart);
  }

  void phrases() {
    int number = 0;
    for (const music::Phrase& phrase : review_.route.phrases) {
      ribbon_.phrases.push_back({x(phrase.span.begin), std::to_string(++number)});
    }
  }

  void bars() {
    double next_free = 0;
    for (const music::Bar& bar : review_.score.bars) {
      const double at = x(bar.start);
      const bool room = at >= next_free && at + kNumberRoom <= frame_.width && !bar.pickup;
      if (room) next_free = at + kNumberRoom;
      ribbon_.bars.push_back({at, room ? bar_of(review_, bar.start) : std::string()});
    }
  }

  const practice::Review& review_;
  const timing::PassMeasures& pass_;
  const RibbonScale& scale_;
  const RibbonFrame& frame_;
  Ribbon ribbon_;
};

}  // namespace

double rounded_up(double figure, double least) {
  const double wanted = std::max(figure, least);
  double power = std::pow(10.0, std::floor(std::log10(wanted)));
  for (const double step : {1.0, 2.0, 2.5, 5.0}) {
    if (step * power >= wanted) return step * power;
  }
  return 10 * power;
}

RibbonScale ribbon_scale(const practice::Review& review) {
  double drift = 0;
  double pulse = 0;
  for (const timing::PassMeasures& pass : review.timing.passes) {
    for (const timing::Beat& beat : pass.beats) {
      if (beat.struck && shown(beat.drift_ms)) drift = std::max(drift, std::abs(*beat.drift_ms));
      if (beat.struck && std::isfinite(beat.pulse_ms)) {
        pulse = std::max(pulse, std::abs(beat.pulse_ms));
      }
    }
  }
  const double end = std::max(drift, 250.0);
  return {end, rounded_up(end / 5, 50), std::min(rounded_up(pulse, 50), kMostPulse)};
}

Ribbon lay_out_ribbon(const practice::Review& review, const timing::PassMeasures& pass,
                      const RibbonScale& scale, const RibbonFrame& frame) {
  return RibbonLayout(review, pass, scale, frame).done();
}

}  // namespace loftbeat::report
