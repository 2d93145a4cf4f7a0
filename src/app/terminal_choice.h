#pragma once

#include <optional>
#include <string>

#include "report/table.h"

namespace loftbeat::app {

// What is known of standard output and the environment.
struct TerminalFacts {
  bool is_terminal = false;
  int window_columns = 0;               // as the window says; 0 = not known
  std::optional<std::string> columns;   // COLUMNS
  std::optional<std::string> no_color;  // NO_COLOR
  std::optional<std::string> term;      // TERM
};

// Width: COLUMNS if it is a number from 20 to 1000, else the window's, else 80. Colour: only on a
// terminal that is not "dumb", and not where NO_COLOR is set to anything (no-color.org).
[[nodiscard]] report::TerminalStyle choose_style(const TerminalFacts& facts);

// Asks the system about standard output.
[[nodiscard]] TerminalFacts look_at_terminal();

}  // namespace loftbeat::app
