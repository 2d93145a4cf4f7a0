#include "timing/drift.h"

#include <algorithm>

namespace loftbeat::timing {

namespace {

constexpr std::size_t kBeatsLeftOutAtEnd = 2;

// Running sum of what is taken out, walked along with the beats.
class TakenOut {
 public:
  TakenOut(const FittedPass& pass, const AddedTime& added) : pass_(pass), added_(added) {}
  // Requires calls with rising `x`.
  double until(double x) {
    for (; next_ < added_.taken_out_s.size() && pass_.pulse.cuts[next_].x <= x; ++next_)
      sum_ += added_.taken_out_s[next_];
    return sum_;
  }

 private:
  const FittedPass& pass_;
  const AddedTime& added_;
  std::size_t next_ = 0;
  double sum_ = 0;
};

std::string why_no_drift(const Question& question) {
  return question.plan.tempo_bpm > 0 ? "too few struck beats" : "no tempo is set";
}

}  // namespace

std::optional<SetGrid> own_grid(const Question& question, const FittedPass& pass) {
  if (question.plan.tempo_bpm <= 0 || !pass.pulse.known) return std::nullopt;
  const double period = 60 / question.plan.tempo_bpm;
  const double first = pass.pulse.beats.front().x;
  const double anchor = std::max(first, first_full_bar(question.score, pass.way).value_or(0));
  return SetGrid{pass.pulse.time_at(anchor) - anchor * period, period};
}

double taken_out_until(const FittedPass& pass, const AddedTime& added, double x) {
  return TakenOut(pass, added).until(x);
}

SetGrid next_grid(const SetGrid& grid, const FittedPass& pass, const AddedTime& added,
                  double span_beats) {
  const double last = pass.struck.empty() ? 0 : pass.struck.back().x;
  const double start =
      grid.start_s + (last + span_beats) * grid.period_s + taken_out_until(pass, added, last);
  return {start, grid.period_s};
}

std::vector<Beat> beats_with_drift(const Question& question, const FittedPass& pass,
                                   const AddedTime& added, const DriftGrids& grids) {
  const std::string why = why_no_drift(question);
  TakenOut taken_out(pass, added);
  std::vector<Beat> beats;
  for (std::size_t i = 0, p = 0; i < pass.grid.size(); ++i) {
    const GridBeat& g = pass.grid[i];
    Beat beat;
    beat.tick = g.tick;
    beat.bar = music::bar_at(question.score, g.tick).number;
    beat.beat = music::beat_in_bar(question.score, g.tick, pass.way.beat());
    beat.struck = g.struck;
    beat.played_s = g.t ? Measured<double>(*g.t) : Measured<double>::unknown("not played");
    beat.drift_ms = beat.drift_beats = beat.running_drift_ms = Measured<double>::unknown(why);
    const double out = taken_out.until(g.x);
    if (g.t && grids.own) {
      const double behind = *g.t - out - grids.own->start_s - g.x * grids.own->period_s;
      beat.drift_ms = behind * 1000;
      beat.drift_beats = behind / grids.own->period_s;
    }
    if (g.t && grids.running)
      beat.running_drift_ms =
          (*g.t - out - grids.running->start_s - g.x * grids.running->period_s) * 1000;
    if (g.struck && pass.pulse.known) beat.pulse_ms = (*g.t - pass.pulse.beats[p++].pulse_t) * 1000;
    beats.push_back(std::move(beat));
  }
  return beats;
}

Measured<double> end_drift_ms(const std::vector<Beat>& beats) {
  if (beats.size() > kBeatsLeftOutAtEnd)
    for (std::size_t i = beats.size() - kBeatsLeftOutAtEnd; i > 0; --i)
      if (beats[i - 1].struck) return beats[i - 1].drift_ms;
  return Measured<double>::unknown("too few struck beats");
}

}  // namespace loftbeat::timing
