#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "report/table.h"
#include "report/utf8.h"

namespace loftbeat::report {

// Puts a text for the terminal together, piece by piece. What is handed in must be clean.
class TextWriter {
 public:
  explicit TextWriter(const TerminalStyle& style) : style_(style), prose_(style) {
    prose_.width = std::min(style.width, kTextWidth);
  }

  void heading(const std::string& words) {
    gap();
    std::string lines = wrap(words, style_);
    lines.pop_back();  // the colour ends before the line does
    out_ += strong(lines, style_) + "\n";
  }
  void gap() {
    if (!out_.empty()) out_ += "\n";
  }
  void line(const std::string& words) { out_ += wrap(words, prose_); }
  void note(const std::string& words) { out_ += faint(wrap(words, prose_), style_); }
  void item(const std::string& bullet, const std::string& words) {
    out_ += wrap(bullet + words, prose_, display_width(bullet));
  }
  void items(const std::vector<std::string>& lines) {
    for (const std::string& words : lines) item("  ", words);
  }
  void table(const Table& table) { out_ += draw_table(table, style_); }
  [[nodiscard]] std::string done() { return std::move(out_); }

 private:
  static constexpr int kTextWidth = 100;  // sentences wider than this are hard to read
  const TerminalStyle& style_;
  TerminalStyle prose_;
  std::string out_;
};

}  // namespace loftbeat::report
