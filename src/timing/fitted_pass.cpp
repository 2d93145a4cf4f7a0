#include "timing/fitted_pass.h"

#include <algorithm>
#include <cmath>

#include "timing/tempo.h"

namespace loftbeat::timing {

namespace {

constexpr std::size_t kLeastOpeningBeats = 5;

void pool_jitter(std::vector<FittedPass>& passes) {
  std::vector<double> jitters;
  for (const FittedPass& p : passes)
    if (p.pulse.known) jitters.push_back(p.pulse.jitter_s);
  if (jitters.empty()) return;
  const double usual = median(std::move(jitters));
  for (FittedPass& p : passes) {
    p.pulse.usual_jitter_s = usual;
    p.pulse.jitter_s = std::max(p.pulse.jitter_s, usual);
  }
}

// What the verse after a play-over tells of its tempo.
std::optional<KnownPeriod> promised_period(const Question& question,
                                           const std::vector<FittedPass>& passes,
                                           std::size_t pass) {
  if (passes[pass].pass->kind != plan::PassKind::play_over) return std::nullopt;
  const auto verse = next_verse(passes, pass);
  if (!verse || !passes[*verse].pulse.known) return std::nullopt;
  const auto slope = opening_slope(question, passes[*verse]);
  if (!slope || slope->value <= 0) return std::nullopt;
  const double may_differ = question.plan.tolerances.tempo_percent / 100 / 2 * slope->value;
  return KnownPeriod{slope->value,
                     std::hypot(passes[*verse].pulse.uncertainty_of(*slope), may_differ)};
}

}  // namespace

FittedPass fit_pass(const Question& question, const follow::AlignedPass& pass) {
  FittedPass fitted{&pass, PassWay(pass, plan::ticks(question.plan.beat)), {}, {}, {}, {}};
  fitted.struck = struck_places(pass, fitted.way);
  fitted.grid = beat_grid(question.score, fitted.way, fitted.struck);
  fitted.pulse = find_pulse({question.score, question.route, pass, fitted.way, fitted.grid});
  return fitted;
}

std::vector<FittedPass> fit_passes(const Question& question) {
  std::vector<FittedPass> passes;
  for (const follow::AlignedPass& pass : question.alignment.passes)
    passes.push_back(fit_pass(question, pass));
  pool_jitter(passes);
  for (std::size_t i = 0; i < passes.size(); ++i) {
    const auto slowing = slowing_of(question, passes, i);
    if (slowing && surely_slows(*slowing, question.plan.tolerances.trend_percent))
      passes[i].slowing = slowing;
  }
  return passes;
}

std::optional<EndSlowing> slowing_of(const Question& question,
                                     const std::vector<FittedPass>& passes, std::size_t pass) {
  const FittedPass& fitted = passes[pass];
  if (planned_broadening(question.route, *fitted.pass, fitted.way)) return std::nullopt;
  return end_slowing(fitted.pulse, promised_period(question, passes, pass));
}

std::optional<std::size_t> next_verse(const std::vector<FittedPass>& passes, std::size_t pass) {
  for (std::size_t i = pass + 1; i < passes.size(); ++i)
    if (is_verse(*passes[i].pass) && passes[i].pass->run == passes[pass].pass->run) return i;
  return std::nullopt;
}

std::optional<Slope> opening_slope(const Question& question, const FittedPass& verse) {
  const Pulse& pulse = verse.pulse;
  for (const music::Phrase& phrase : question.route.phrases) {
    const auto end = verse.way.place_of(phrase.span.end);
    if (!end) continue;
    const auto beats = std::count_if(pulse.beats.begin(), pulse.beats.end(),
                                     [&](const PulseBeat& b) { return b.used && b.x < *end; });
    if (static_cast<std::size_t>(beats) < kLeastOpeningBeats) continue;
    // A phrase's end is the next one's begin, which is not of it.
    return slope_between(pulse, 0, std::nextafter(*end, 0.0));
  }
  return Slope{pulse.period_s, pulse.period_uncertainty(), pulse.period_leverage, pulse.scatter_s,
               0};
}

Ruler end_ruler(const FittedPass& pass) {
  if (pass.slowing) return {pass.slowing->before_s, pass.slowing->before_uncertainty_s};
  const double end = pass.struck.back().x;
  const Pulse& pulse = pass.pulse;
  const double period = pulse.period_at(end);
  // The pulse at the end and the pulse over the whole may both have been the player's ruler.
  const double apart = std::abs(period - pulse.period_s) / 2;
  return {period, std::hypot(pulse.period_uncertainty_at(end), apart)};
}

bool is_verse(const follow::AlignedPass& pass) { return pass.kind == plan::PassKind::verse; }

}  // namespace loftbeat::timing
