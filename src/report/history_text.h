#pragma once

#include <string>
#include <vector>

#include "practice/history.h"
#include "report/table.h"

namespace loftbeat::report {

// A row for each tune: how often it was practised, what its figures are lately, and how the error
// of its joins went over the last practices, as a line of bars (the newest on the right).
[[nodiscard]] Table tunes_table(const std::vector<practice::TuneHistory>& histories);

// A row for each practice.
[[nodiscard]] Table practices_table(const std::vector<practice::PracticeFigures>& practices);

// For the terminal: one tune in full, several as a table. `left_out`: practices that could not be
// read, a sentence each.
[[nodiscard]] std::string history_text(const std::vector<practice::TuneHistory>& histories,
                                       const std::vector<std::string>& left_out,
                                       const TerminalStyle& style);

// A hymn of a service and how much it needs work.
struct ServiceNeed {
  std::string hymn;  // "12 Azmon"
  practice::Need need;
};
// The most needy first; those never practised before all others.
[[nodiscard]] std::string service_needs_text(std::vector<ServiceNeed> needs,
                                             const std::string& service,
                                             const TerminalStyle& style);

// Eight heights of bars, "▁▂▃▄▅▆▇█", the largest value as high as can be; "·" where nothing is
// known. Worked number: 0, 50, 100 -> "▁▄█".
[[nodiscard]] std::string sparkline(const std::vector<Measured<double>>& values);

}  // namespace loftbeat::report
