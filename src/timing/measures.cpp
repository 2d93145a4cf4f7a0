#include "timing/measures.h"

#include "timing/breaths.h"
#include "timing/drift.h"
#include "timing/fitted_pass.h"
#include "timing/joins.h"
#include "timing/lag.h"
#include "timing/play_over.h"
#include "timing/releases.h"
#include "timing/tempo.h"

namespace loftbeat::timing {

namespace {

// The grid that runs on through the joins into each pass.
std::vector<std::optional<SetGrid>> running_grids(const Question& question,
                                                  const std::vector<FittedPass>& passes,
                                                  const std::vector<AddedTime>& added,
                                                  const std::vector<JoinMeasures>& joins) {
  std::vector<std::optional<SetGrid>> grids;
  for (const FittedPass& pass : passes) grids.push_back(own_grid(question, pass));
  const auto usual = usual_span(joins);
  for (const JoinMeasures& join : joins) {
    const auto before = static_cast<std::size_t>(join.before);
    const auto after = static_cast<std::size_t>(join.after);
    const bool like_others = !join.after_play_over && !join.with_interlude;
    std::optional<double> span = join.planned_span_beats.value;
    if (!span && like_others && join.span_beats) span = usual;
    if (span && grids[before])
      grids[after] = next_grid(*grids[before], passes[before], added[before], *span);
  }
  return grids;
}

void put_speed(const PassSpeed& speed, PassMeasures& out) {
  out.tempo_bpm = speed.tempo_bpm;
  out.tempo_uncertainty_percent = speed.tempo_uncertainty_percent;
  out.tempo_offset_percent = speed.tempo_offset_percent;
  out.trend_percent = speed.trend_percent;
  out.trend_uncertainty_percent = speed.trend_uncertainty_percent;
  out.steadiness_percent = speed.steadiness_percent;
  out.steadiness_uncertainty_percent = speed.steadiness_uncertainty_percent;
}

void put_lags(const Lags& lags, PassMeasures& out) {
  out.pedal_lag = lags.pedal;
  out.feet = lags.feet;
  out.left_hand_lag = lags.left_hand;
}

std::optional<double> next_onset_s(const std::vector<FittedPass>& passes, std::size_t i) {
  if (i + 1 >= passes.size() || passes[i + 1].pass->run != passes[i].pass->run) return std::nullopt;
  return seconds(passes[i + 1].pass->first_onset);
}

PassMeasures measure_pass(const Question& question, const FittedPass& pass, const AddedTime& added,
                          const DriftGrids& grids) {
  PassMeasures out;
  put_speed(pass_speed(pass, question.plan.tempo_bpm), out);
  out.jitter_ms = pass.pulse.known ? Measured<double>(pass.pulse.jitter_s * 1000)
                                   : Measured<double>::unknown("too few struck beats");
  out.beats = beats_with_drift(question, pass, added, grids);
  out.end_drift_ms = end_drift_ms(out.beats);
  out.breaths = added.breaths;
  out.hesitations = added.hesitations;
  out.fermatas = added.fermatas;
  return out;
}

}  // namespace

Timing measure(const Question& question) {
  const std::vector<FittedPass> passes = fit_passes(question);
  const std::vector<AddedTime> added = tell_breaths(question, passes);
  Timing timing;
  timing.joins = measure_joins(question, passes);
  const auto running = running_grids(question, passes, added, timing.joins);
  const ReleaseMeter releases(question);
  for (std::size_t i = 0; i < passes.size(); ++i) {
    const DriftGrids grids{own_grid(question, passes[i]), running[i]};
    PassMeasures measured = measure_pass(question, passes[i], added[i], grids);
    measured.pass = static_cast<int>(i);
    put_lags(measure_lags(question, measured.pass), measured);
    measured.releases = releases.measure(measured.pass, passes[i], next_onset_s(passes, i));
    timing.passes.push_back(std::move(measured));
  }
  timing.play_over = measure_play_over(question, passes);
  return timing;
}

}  // namespace loftbeat::timing
