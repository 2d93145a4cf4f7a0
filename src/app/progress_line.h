#pragma once

#include <string>

namespace loftbeat::app {

// One line on standard error that is written over itself; nothing where nobody watches (standard
// error is no terminal). The last one is wiped away at the end.
class ProgressLine {
 public:
  ProgressLine();
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  void show(const std::string& text);

 private:
  bool watched_;
  std::string shown_;
};

// "[#########...............................]  23 %"; share 0 to 1.
[[nodiscard]] std::string bar_text(double share);
// 75.4 -> "1:15".
[[nodiscard]] std::string clock_text(double seconds);

}  // namespace loftbeat::app
