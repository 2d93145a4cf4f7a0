#pragma once

#include <string>
#include <vector>

namespace loftbeat::report {

// How wide the terminal is, and whether it takes colours.
struct TerminalStyle {
  int width = 80;  // columns, at least 20
  enum class Colour { none, ansi } colour = Colour::none;
};

// A cell of a table. A flagged one carries "!" behind it (and a colour, where there are any), so
// that nothing hangs on the colour.
struct Cell {
  std::string text;  // clean
  enum class Flag { none, raised } flag = Flag::none;
};

struct Column {
  std::string first;  // heading, two lines of it
  std::string second;
  enum class Side { left, right } side = Side::right;
};

struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;  // each as long as `columns`
};

// The table with two heading lines; where it is wider than the terminal, each row as a paragraph
// instead ("verse 2: tempo 70.1, offset −2.6 %! ..."). Every line ends with a line feed.
[[nodiscard]] std::string draw_table(const Table& table, const TerminalStyle& style);

// Breaks clean text at spaces into lines no wider than the terminal (a longer word stands alone
// on its line); every line after the first begins with `indent` spaces.
[[nodiscard]] std::string wrap(const std::string& text, const TerminalStyle& style,
                               std::size_t indent = 0);

// Emphasis where the terminal has colours; else the bare text.
[[nodiscard]] std::string strong(const std::string& text, const TerminalStyle& style);
[[nodiscard]] std::string faint(const std::string& text, const TerminalStyle& style);
[[nodiscard]] std::string raised(const std::string& text, const TerminalStyle& style);

}  // namespace loftbeat::report
