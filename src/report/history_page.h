#pragma once

#include <string>
#include <vector>

#include "practice/history.h"

namespace loftbeat::report {

// A page that needs no network: for each tune its figures over time, drawn and in a table. Every
// text from a file is escaped.
[[nodiscard]] std::string history_page(const std::vector<practice::TuneHistory>& histories,
                                       const std::vector<std::string>& left_out);

}  // namespace loftbeat::report
