#include "practice/history.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <utility>

#include <fmt/format.h>

namespace loftbeat::practice {
namespace {

constexpr double kStopsPercent = 25;

Measured<double> median_of(std::vector<double> values, const char* why) {
  if (values.empty()) return Measured<double>::unknown(why);
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

// By linear interpolation between the sorted values, as most tables have it.
double quantile(const std::vector<double>& sorted, double share) {
  const double at = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return sorted[below] + (at - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

// Whole beats and what is left, in ms; only where a plan says how long the join is.
std::vector<double> join_errors_ms(const Review& review) {
  std::vector<double> errors;
  for (const timing::JoinMeasures& join : review.timing.joins) {
    const auto before = static_cast<std::size_t>(std::max(join.before, 0));
    if (!join.phase_error_ms || before >= review.timing.passes.size()) continue;
    const Measured<double>& tempo = review.timing.passes[before].tempo_bpm;
    double error = *join.phase_error_ms;
    if (join.count_error_beats && *join.count_error_beats != 0) {
      if (!tempo) continue;
      error += *join.count_error_beats * 60'000 / *tempo;
    }
    errors.push_back(error);
  }
  return errors;
}

void add_joins(const Review& review, PracticeFigures& figures) {
  std::vector<double> errors = join_errors_ms(review);
  std::vector<double> sizes;
  for (const double error : errors) sizes.push_back(std::abs(error));
  figures.join_error_ms = median_of(sizes, "no planned join was played");
  std::sort(errors.begin(), errors.end());
  figures.join_spread_ms = Measured<double>::unknown("fewer than two planned joins were played");
  if (errors.size() >= 2)
    figures.join_spread_ms = (quantile(errors, 0.75) - quantile(errors, 0.25)) / 2;
}

void add_passes(const Review& review, PracticeFigures& figures) {
  std::vector<double> steadiness;
  std::vector<double> drifts;
  for (const timing::PassMeasures& pass : review.timing.passes) {
    if (pass.steadiness_percent) steadiness.push_back(*pass.steadiness_percent);
    if (pass.end_drift_ms) drifts.push_back(std::abs(*pass.end_drift_ms));
  }
  figures.steadiness_percent = median_of(steadiness, "no verse is long enough");
  figures.end_drift_ms = median_of(drifts, "no verse is long enough");
}

void add_stop_moves(const Review& review, PracticeFigures& figures) {
  for (const advise::JudgedMove& move : review.stops.moves) {
    if (!move.verdict) continue;
    ++(move.fault ? figures.stops_at_fault : figures.stops_clean);
    if (*move.verdict == advise::StopVerdict::cost_the_beat) ++figures.stops_cost_beat;
  }
}

bool comes_before(const NotedPractice& a, const NotedPractice& b) {
  return std::tie(a.tune, a.figures.when, a.figures.folder) <
         std::tie(b.tune, b.figures.when, b.figures.folder);
}

}  // namespace

PracticeFigures figures_of(const Review& review, const PracticeNote& note, std::string folder,
                           std::string when) {
  PracticeFigures figures;
  figures.folder = std::move(folder);
  figures.when = std::move(when);
  figures.note = note;
  add_joins(review, figures);
  add_stop_moves(review, figures);
  if (note.only.empty()) {
    add_passes(review, figures);
  } else {
    figures.steadiness_percent = Measured<double>::unknown("a part alone was played");
    figures.end_drift_ms = Measured<double>::unknown("a part alone was played");
  }
  return figures;
}

std::vector<TuneHistory> histories_of(std::vector<NotedPractice> practices) {
  std::sort(practices.begin(), practices.end(), comes_before);
  std::vector<TuneHistory> histories;
  for (NotedPractice& practice : practices) {
    if (histories.empty() || histories.back().tune != practice.tune)
      histories.push_back({practice.tune, practice.score, {}, {}, 0});
    TuneHistory& history = histories.back();
    if (practice.figures.note.under_clicks()) {
      ++history.under_clicks;
    } else {
      const bool cold = practice.figures.note.cold;
      (cold ? history.cold : history.practices).push_back(std::move(practice.figures));
    }
  }
  return histories;
}

Measured<double> lately(const TuneHistory& history, FigureOfPractice figure) {
  std::vector<double> values;
  for (auto at = history.practices.rbegin();
       at != history.practices.rend() && values.size() < kLately; ++at)
    if ((*at).*figure) values.push_back(*((*at).*figure));
  return median_of(values, "no practice tells it");
}

Measured<double> stops_at_fault_lately(const TuneHistory& history) {
  int all = 0;
  int at_fault = 0;
  std::size_t counted = 0;
  for (auto at = history.practices.rbegin(); at != history.practices.rend() && counted < kLately;
       ++at) {
    if (at->stops_clean + at->stops_at_fault == 0) continue;
    ++counted;
    all += at->stops_clean + at->stops_at_fault;
    at_fault += at->stops_at_fault;
  }
  if (all == 0) return Measured<double>::unknown("no practice tells of stops");
  return 100.0 * at_fault / all;
}

Need need_of(const TuneHistory& history) {
  using Of = Need::Of;
  Need need;
  need.practised = !history.practices.empty();
  const std::array<std::tuple<Of, Measured<double>, double>, 4> terms = {
      {{Of::joins, lately(history, &PracticeFigures::join_error_ms), kToleratedJoinMs},
       {Of::stops, stops_at_fault_lately(history), kStopsPercent},
       {Of::end_drift, lately(history, &PracticeFigures::end_drift_ms), kToleratedEndDriftMs},
       {Of::steadiness, lately(history, &PracticeFigures::steadiness_percent),
        kToleratedSteadinessPercent}}};
  for (const auto& [of, figure, tolerated] : terms) {
    if (!figure || *figure / tolerated <= need.most) continue;
    need.most = *figure / tolerated;
    need.of = of;
    need.figure = *figure;
  }
  return need;
}

std::string need_sentence(const Need& need) {
  if (!need.practised) return "not practised yet";
  const std::string all_well = need.most <= 1 ? "nothing stands out; the largest: " : "";
  switch (need.of) {
    case Need::Of::joins:
      return all_well + fmt::format("its joins are off by {:.0f} ms", need.figure);
    case Need::Of::stops:
      return all_well + fmt::format("{:.0f} % of its stop moves are at fault", need.figure);
    case Need::Of::end_drift:
      return all_well +
             fmt::format("its verses end {:.0f} ms away from the set tempo", need.figure);
    case Need::Of::steadiness:
      return all_well + fmt::format("its beat is steady within {:.1f} %", need.figure);
    case Need::Of::nothing: break;
  }
  return "its practices tell nothing yet";
}

}  // namespace loftbeat::practice
