#include "report/history_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/numbers.h"
#include "report/text_writer.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

using practice::PracticeFigures;
using practice::TuneHistory;

constexpr std::size_t kBars = 12;
constexpr std::size_t kBarsInTable = 6;
constexpr std::size_t kTuneColumns = 22;

// Cut to the columns that a table has for it.
std::string short_name(const std::string& tune) {
  std::string name = clean_text(tune);
  if (display_width(name) <= kTuneColumns) return name;
  while (display_width(name) >= kTuneColumns) {
    while ((static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U) name.pop_back();
    name.pop_back();
  }
  return name + "…";
}

std::string stops_text(int clean, int at_fault) {
  if (clean + at_fault == 0) return "–";
  return fmt::format("{} of {}", clean, clean + at_fault);
}

std::string stops_of(const TuneHistory& history) {
  int clean = 0;
  int at_fault = 0;
  for (const PracticeFigures& one : history.practices) {
    clean += one.stops_clean;
    at_fault += one.stops_at_fault;
  }
  return stops_text(clean, at_fault);
}

std::vector<Measured<double>> last_join_errors(const TuneHistory& history, std::size_t most) {
  std::vector<Measured<double>> errors;
  const std::size_t count = std::min(most, history.practices.size());
  for (auto at = history.practices.end() - static_cast<std::ptrdiff_t>(count);
       at != history.practices.end(); ++at)
    errors.push_back(at->join_error_ms);
  return errors;
}

std::string kind_of(const practice::PracticeNote& note) {
  std::string kind = note.only;
  if (note.cold) kind += kind.empty() ? "cold" : ", cold";
  if (note.singing > 0) kind += (kind.empty() ? "" : ", ") + fmt::format("{} sang", note.singing);
  return kind;
}

std::vector<Cell> practice_row(const PracticeFigures& one) {
  return {{one.when},
          {kind_of(one.note)},
          {write_figure(one.join_error_ms, kMs)},
          {write_figure(one.join_spread_ms, kMs)},
          {write_figure(one.steadiness_percent, kPercent)},
          {write_figure(one.end_drift_ms, kMs)},
          {stops_text(one.stops_clean, one.stops_at_fault)},
          {one.stops_cost_beat > 0 ? std::to_string(one.stops_cost_beat) : ""}};
}

void write_tune(TextWriter& text, const TuneHistory& history) {
  text.heading(clean_text(history.tune));
  if (!history.practices.empty()) {
    text.table(practices_table(history.practices));
    text.line("Joins over the last practices: " + sparkline(last_join_errors(history, kBars)));
  }
  if (!history.cold.empty()) {
    text.gap();
    text.line("First tries of a day, cold:");
    text.table(practices_table(history.cold));
  }
}

}  // namespace

std::string sparkline(const std::vector<Measured<double>>& values) {
  constexpr std::array<const char*, 8> kHeights = {"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
  double most = 0;
  for (const Measured<double>& value : values) most = std::max(most, value ? *value : 0);
  std::string line;
  for (const Measured<double>& value : values) {
    if (!value) {
      line += "·";
      continue;
    }
    const double share = most > 0 ? std::clamp(*value / most, 0.0, 1.0) : 0;
    line += kHeights[static_cast<std::size_t>(std::floor(share * 7 + 1e-9))];
  }
  return line;
}

Table tunes_table(const std::vector<TuneHistory>& histories) {
  Table table;
  table.columns = {{"", "Tune", Column::Side::left},
                   {"", "Times"},
                   {"", "Last", Column::Side::left},
                   {"Joins", "off by"},
                   {"Steady", "within"},
                   {"End", "drift"},
                   {"Stops", "clean"},
                   {"Joins:", "course", Column::Side::left}};
  for (const TuneHistory& history : histories) {
    if (history.practices.empty()) continue;
    table.rows.push_back(
        {{short_name(history.tune)},
         {std::to_string(history.practices.size())},
         {history.practices.back().when.substr(5, 5)},
         {write_figure(practice::lately(history, &PracticeFigures::join_error_ms), kMs)},
         {write_figure(practice::lately(history, &PracticeFigures::steadiness_percent), kPercent)},
         {write_figure(practice::lately(history, &PracticeFigures::end_drift_ms), kMs)},
         {stops_of(history)},
         {sparkline(last_join_errors(history, kBarsInTable))}});
  }
  return table;
}

Table practices_table(const std::vector<PracticeFigures>& practices) {
  Table table;
  table.columns = {{"", "When", Column::Side::left},
                   {"", "What", Column::Side::left},
                   {"Joins", "off by"},
                   {"Spread", "of them"},
                   {"Steady", "within"},
                   {"End", "drift"},
                   {"Stops", "clean"},
                   {"Cost", "the beat"}};
  for (const PracticeFigures& one : practices) table.rows.push_back(practice_row(one));
  return table;
}

std::string history_text(const std::vector<TuneHistory>& histories,
                         const std::vector<std::string>& left_out, const TerminalStyle& style) {
  TextWriter text(style);
  if (histories.size() == 1) {
    write_tune(text, histories.front());
  } else if (!histories.empty()) {
    text.heading("What was practised");
    text.table(tunes_table(histories));
    text.note("Of the last three practices; a figure as it stands in most of them.");
  }
  int under_clicks = 0;
  for (const TuneHistory& history : histories) under_clicks += history.under_clicks;
  if (under_clicks > 0)
    text.line(fmt::format("Left out, since a click sounded: {} {}.", under_clicks,
                          under_clicks == 1 ? "practice" : "practices"));
  if (!left_out.empty()) {
    text.heading("Not read");
    text.items(left_out);
  }
  if (histories.empty() && left_out.empty()) text.line("Nothing has been practised yet.");
  return text.done();
}

std::string service_needs_text(std::vector<ServiceNeed> needs, const std::string& service,
                               const TerminalStyle& style) {
  std::stable_sort(needs.begin(), needs.end(), [](const ServiceNeed& a, const ServiceNeed& b) {
    if (a.need.practised != b.need.practised) return !a.need.practised;
    return a.need.most > b.need.most;
  });
  TextWriter text(style);
  text.heading(clean_text(service) + ": what needs work most");
  int number = 0;
  for (const ServiceNeed& one : needs)
    text.item(fmt::format("{:>2}. ", ++number),
              clean_text(one.hymn) + ": " + practice::need_sentence(one.need) + ".");
  return text.done();
}

}  // namespace loftbeat::report
