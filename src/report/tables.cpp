#include "report/tables.h"

#include <fmt/format.h>

#include "report/flags.h"
#include "report/numbers.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

using practice::FindingKind;
using Side = Column::Side;

constexpr const char* kUnknown = "–";

Cell flagged(std::string text, bool raised) {
  return {std::move(text), raised ? Cell::Flag::raised : Cell::Flag::none};
}

std::string span_figure(const Measured<double>& ms) {
  return ms ? write_signed_span(*ms) : kUnknown;
}

std::string lag_figure(const Measured<timing::LagMs>& lag) {
  return lag ? write_number(lag->median_ms, kSignedMs) : kUnknown;
}

std::vector<Cell> pass_row(const practice::Review& review, const timing::PassMeasures& p) {
  const auto has = [&](std::initializer_list<FindingKind> kinds) {
    return pass_has(review, p.pass, kinds);
  };
  return {
      {pass_name(review, p.pass)},
      {write_figure(p.tempo_bpm, kTempo)},
      flagged(write_figure(p.tempo_offset_percent, kSignedPercent), has({FindingKind::tempo_off})),
      flagged(write_figure(p.trend_percent, kSignedPercent),
              has({FindingKind::dragging, FindingKind::rushing})),
      {span_figure(p.end_drift_ms)},
      flagged(write_figure(p.steadiness_percent, kPercent), has({FindingKind::unsteady})),
      flagged(lag_figure(p.pedal_lag), has({FindingKind::feet_late, FindingKind::feet_early})),
  };
}

// "2.9 of 3", or "2.9" where nothing is planned.
std::string against_plan(const Measured<double>& played, const Measured<double>& planned) {
  if (!played) return kUnknown;
  const std::string text = write_number(*played, {1, ""});
  return planned ? fmt::format("{} of {}", text, write_short(*planned, {2, ""})) : text;
}

std::string count_figure(const Measured<int>& count) {
  if (!count) return kUnknown;
  return write_number(*count, {0, "", NumberStyle::Sign::always});
}

std::vector<Cell> join_row(const practice::Review& review, int index,
                           const timing::JoinMeasures& join) {
  const auto has = [&](std::initializer_list<FindingKind> kinds) {
    return join_has(review, index, kinds);
  };
  const bool any =
      has({FindingKind::join_early, FindingKind::join_late, FindingKind::join_miscounted,
           FindingKind::join_unlike, FindingKind::stops_cost_beat});
  return {
      {join_name(review, join)},
      {against_plan(join.hold_beats, join.planned_hold_beats)},
      {against_plan(join.lift_beats, join.planned_lift_beats)},
      flagged(count_figure(join.count_error_beats), has({FindingKind::join_miscounted})),
      flagged(span_figure(join.phase_error_ms),
              has({FindingKind::join_early, FindingKind::join_late, FindingKind::stops_cost_beat})),
      flagged(std::string(verdict_words(join.verdict)), any),
  };
}

}  // namespace

Table pass_table(const practice::Review& review) {
  Table table;
  table.columns = {
      {"", "Pass", Side::left}, {"", "Tempo"},        {"Against", "set"},  {"", "Trend"},
      {"Drift", "at end"},      {"Steady", "within"}, {"Feet to", "hands"}};
  for (const timing::PassMeasures& pass : review.timing.passes) {
    table.rows.push_back(pass_row(review, pass));
  }
  return table;
}

Table join_table(const practice::Review& review) {
  Table table;
  table.columns = {{"", "Join", Side::left},
                   {"Hold,", "beats"},
                   {"Lift,", "beats"},
                   {"", "Count"},
                   {"", "Phase"},
                   {"", "Verdict", Side::left}};
  for (std::size_t i = 0; i < review.timing.joins.size(); ++i) {
    table.rows.push_back(join_row(review, static_cast<int>(i), review.timing.joins[i]));
  }
  return table;
}

}  // namespace loftbeat::report
