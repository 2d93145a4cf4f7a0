#pragma once

#include <string>

#include "practice/review.h"
#include "report/table.h"

namespace loftbeat::report {

// The review as a player reads it on a terminal: passes, joins, play-over, places, and what to
// practise first. UTF-8; no line wider than the terminal (unless one word is). Flagged figures
// carry "!". Nothing from a file reaches the terminal unclean.
[[nodiscard]] std::string terminal_text(const practice::Review& review, const TerminalStyle& style);

}  // namespace loftbeat::report
