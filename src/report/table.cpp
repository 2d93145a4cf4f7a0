#include "report/table.h"

#include <algorithm>
#include <cctype>
#include <numeric>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr std::size_t kGap = 2;  // between columns; its first place takes the "!" of a flag

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

std::size_t table_width(const std::vector<std::size_t>& widths) {
  return std::accumulate(widths.begin(), widths.end(), std::size_t{0}) + kGap * widths.size() - 1;
}

// One line of cells; trailing blanks are dropped.
class Line {
 public:
  Line(const Table& table, const std::vector<std::size_t>& widths, const TerminalStyle& style)
      : table_(table), widths_(widths), style_(style) {}

  void add(const Cell& cell) {
    const std::size_t blank = widths_[at_] - display_width(cell.text);
    const bool left = table_.columns[at_].side == Column::Side::left;
    line_.append(owed_ + (left ? 0 : blank), ' ');
    line_ += is_flagged(cell) ? raised(marked(cell), style_) : cell.text;
    owed_ = kGap - (is_flagged(cell) ? 1 : 0) + (left ? blank : 0);
    ++at_;
  }

  [[nodiscard]] std::string done() {
    while (!line_.empty() && line_.back() == ' ') line_.pop_back();
    return line_ + "\n";
  }

 private:
  const Table& table_;
  const std::vector<std::size_t>& widths_;
  const TerminalStyle& style_;
  std::string line_;
  std::size_t owed_ = 0;
  std::size_t at_ = 0;
};

std::string draw_lines(const Table& table, const std::vector<std::size_t>& widths,
                       const TerminalStyle& style) {
  Line first(table, widths, style);
  Line second(table, widths, style);
  for (const Column& column : table.columns) {
    first.add({column.first});
    second.add({column.second});
  }
  std::string text = first.done() + second.done();
  for (const auto& row : table.rows) {
    Line line(table, widths, style);
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
  if (table_width(widths) > static_cast<std::size_t>(style.width)) {
    return draw_paragraphs(table, style);
  }
  return draw_lines(table, widths, style);
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
