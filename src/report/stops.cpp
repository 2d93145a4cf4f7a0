#include "report/stops.h"

#include <set>

#include <fmt/format.h>

#include "report/numbers.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

using advise::JudgedMove;
using Side = Column::Side;

const timing::JoinMeasures& join_of(const practice::Review& review, const JudgedMove& move) {
  return review.timing.joins[static_cast<std::size_t>(move.join)];
}

std::string span_or_dash(const Measured<double>& ms) { return ms ? write_signed_span(*ms) : "–"; }

std::vector<Cell> stop_row(const practice::Review& review, const JudgedMove& move) {
  const std::string verdict =
      move.verdict ? std::string(stop_verdict_words(*move.verdict)) : "cannot tell";
  return {{join_name(review, join_of(review, move))},
          {move.when == advise::MoveWhen::none ? "–" : write_clock(move.first_s)},
          {span_or_dash(move.after_release_ms)},
          {span_or_dash(move.past_entry_ms)},
          {verdict, move.fault ? Cell::Flag::raised : Cell::Flag::none}};
}

std::string comparison_line(const timing::MoveComparison& comparison) {
  if (!comparison.with_ms || !comparison.without_ms) return {};
  return fmt::format(
      "Joins with a movement ({}) came {} against their plan in the middle, those without ({}) {} "
      "(+ is late).",
      comparison.joins_with, write_signed_span(*comparison.with_ms), comparison.joins_without,
      write_signed_span(*comparison.without_ms));
}

}  // namespace

Table stop_table(const practice::Review& review) {
  Table table;
  table.columns = {{"", "Join", Side::left},
                   {"", "At"},
                   {"After the", "release"},
                   {"Hand back,", "to the entry"},
                   {"", "Verdict", Side::left}};
  for (const JudgedMove& move : review.stops.moves) table.rows.push_back(stop_row(review, move));
  return table;
}

std::vector<std::string> stop_lines(const practice::Review& review) {
  const advise::StopReview& stops = review.stops;
  if (!stops.known)
    return {fmt::format("Stop moves are not judged: {}.", clean_text(stops.reason))};
  std::vector<std::string> lines;
  std::set<std::string> reasons;
  for (const JudgedMove& move : stops.moves) {
    if (!move.controls.empty())
      lines.push_back(fmt::format("{}: {}.", join_name(review, join_of(review, move)),
                                  clean_text(move.controls)));
    if (!move.verdict && reasons.insert(move.verdict.reason).second)
      lines.push_back(fmt::format("Cannot tell: {}.", move.verdict.reason));
  }
  if (stops.moves.empty()) lines.emplace_back("No stop moved at a join, and none was meant to.");
  if (stops.elsewhere > 0)
    lines.push_back(fmt::format("{} {} away from the joins {} not judged.", stops.elsewhere,
                                stops.elsewhere == 1 ? "movement" : "movements",
                                stops.elsewhere == 1 ? "is" : "are"));
  const std::string comparison = comparison_line(stops.comparison);
  if (!comparison.empty()) lines.push_back(comparison);
  return lines;
}

}  // namespace loftbeat::report
