#include "report/table.h"

#include <algorithm>
#include <cctype>
#include <numeric>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

// Blanks before a column. The first of them takes the "!" of a flagged cell; where room is short,
// figures that stand to the right do with that one.
enum class Spacing { wide, close };

std::size_t gap_before(const Column& column, Spacing spacing) {
  return spacing == Spacing::close && column.side == Column::Side::right ? 1 : 2;
}

std::string dressed(const char* code, const std::string& text, const TerminalStyle& style) {
  if (style.colour == TerminalStyle::Colour::none) return text;
  return std::string("\x1b[") + code + "m" + text + "\x1b[0m";
}

bool is_flagged(const Cell& cell) { return cell.flag == Cell::Flag::raised; }

std::string marked(const Cell& cell) { return is_flagged(cell) ? cell.text + "!" : cell.text; }

std::vector<std::size_t> column_widths(const Table& table) {
  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    std::size_t width =
        std::max(display_width(table.columns[c].first), display_width(table.columns[c].second));
    for (const auto& row : table.rows) width = std::max(width, display_width(row[c].text));
    widths.push_back(width);
  }
  return widths;
}

std::size_t table_width(const Table& table, const std::vector<std::size_t>& widths,
                        Spacing spacing) {
  std::size_t width = std::accumulate(widths.begin(), widths.end(), std::size_t{1});
  for (std::size_t c = 1; c < widths.size(); ++c) width += gap_before(table.columns[c], spacing);
  return width;
}

// One line of cells; trailing blanks are dropped.
class Line {
 public:
  struct Frame {
    const Table& table;
    const std::vector<std::size_t>& widths;
    Spacing spacing;
    const TerminalStyle& style;
  };
  explicit Line(const Frame& frame) : frame_(frame) {}

  void add(const Cell& cell) {
    const Column& column = frame_.table.columns[at_];
    const std::size_t blank = frame_.widths[at_] - display_width(cell.text);
    const bool left = column.side == Column::Side::left;
    const std::size_t gap = at_ == 0 ? 0 : gap_before(column, frame_.spacing) - taken_;
    line_.append(owed_ + gap + (left ? 0 : blank), ' ');
    line_ += is_flagged(cell) ? raised(marked(cell), frame_.style) : cell.text;
    taken_ = is_flagged(cell) ? 1 : 0;
    owed_ = left ? blank : 0;
    ++at_;
  }

  [[nodiscard]] std::string done() {
    while (!line_.empty() && line_.back() == ' ') line_.pop_back();
    return line_ + "\n";
  }

 private:
  const Frame& frame_;
  std::string line_;
  std::size_t owed_ = 0;   // blanks that fill up a cell which stands to the left
  std::size_t taken_ = 0;  // of the gap, by a flag
  std::size_t at_ = 0;
};

std::string draw_lines(const Line::Frame& frame) {
  Line first(frame);
  Line second(frame);
  for (const Column& column : frame.table.columns) {
    first.add({column.first});
    second.add({column.second});
  }
  const auto heading = [](const std::string& line) { return line == "\n" ? "" : line; };
  std::string text = heading(first.done()) + heading(second.done());
  for (const auto& row : frame.table.rows) {
    Line line(frame);
    for (const Cell& cell : row) line.add(cell);
    text += line.done();
  }
  return text;
}

std::string heading_of(const Column& column) {
  std::string heading = column.first;
  if (!heading.empty() && !column.second.empty()) heading += ' ';
  heading += column.second;
  if (!heading.empty()) {
    const auto first = static_cast<unsigned char>(heading.front());
    heading.front() = static_cast<char>(std::tolower(first));
  }
  return heading;
}

std::string draw_paragraphs(const Table& table, const TerminalStyle& style) {
  std::string text;
  for (const auto& row : table.rows) {
    std::string line = row.front().text + ":";
    for (std::size_t c = 1; c < row.size(); ++c) {
      line += (c == 1 ? " " : ", ") + heading_of(table.columns[c]) + " " + marked(row[c]);
    }
    text += wrap(line, style, 2);
  }
  return text;
}

}  // namespace

std::string draw_table(const Table& table, const TerminalStyle& style) {
  const std::vector<std::size_t> widths = column_widths(table);
  for (const Spacing spacing : {Spacing::wide, Spacing::close}) {
    if (table_width(table, widths, spacing) <= static_cast<std::size_t>(style.width)) {
      return draw_lines({table, widths, spacing, style});
    }
  }
  return draw_paragraphs(table, style);
}

std::string wrap(const std::string& text, const TerminalStyle& style, std::size_t indent) {
  const auto width = static_cast<std::size_t>(style.width);
  std::string out;
  std::size_t column = 0;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t space = std::min(text.find(' ', begin), text.size());
    const std::string word = text.substr(begin, space - begin);
    const std::size_t wide = display_width(word);
    if (column > indent && column + 1 + wide > width) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (begin > 0) {
      out += ' ';
      ++column;
    }
    out += word;
    column += wide;
    begin = space + 1;
  }
  return out + "\n";
}

std::string strong(const std::string& text, const TerminalStyle& style) {
  return dressed("1", text, style);
}

std::string faint(const std::string& text, const TerminalStyle& style) {
  return dressed("2", text, style);
}

std::string raised(const std::string& text, const TerminalStyle& style) {
  return dressed("1;33", text, style);
}

}  // namespace loftbeat::report
