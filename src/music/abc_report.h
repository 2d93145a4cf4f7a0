#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/base.h"

// Where the ABC reader is, and how it tells what is wrong there. Inside the reader only.
namespace loftbeat::music {

// A place in the file; line and column count from 1.
struct AbcPlace {
  int line = 0;
  int column = 0;
};

// Collects what is put up with, and ends the reading where nothing can be.
class AbcReport {
 public:
  explicit AbcReport(std::string name) : name_(std::move(name)) {}

  // Throws ReadFailure.
  [[noreturn]] void fail(AbcPlace at, const std::string& message,
                         ErrorKind kind = ErrorKind::unreadable) const;
  void put_up_with(AbcPlace at, const std::string& message);
  // Whether further notices are only counted; a message need not be made for them.
  [[nodiscard]] bool full() const;
  void count_one_more() { ++dropped_; }
  [[nodiscard]] std::vector<Notice> take_notices();

 private:
  std::string name_;
  std::vector<Notice> notices_;
  std::size_t dropped_ = 0;
};

// `text` for a message: quoted, cut to 24 characters, without control characters.
[[nodiscard]] std::string abc_shown(std::string_view text);

}  // namespace loftbeat::music
