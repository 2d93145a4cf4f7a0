#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include "music/abc_report.h"
#include "music/abc_text.h"

namespace loftbeat::music {

// Goes through one line of music. Inside the ABC reader only.
class AbcCursor {
 public:
  // `text` is the line, its comment taken off.
  AbcCursor(std::string_view text, int line) : text_(text), line_(line) {}

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }
  // The character `ahead` of here; 0 beyond the end of the line.
  [[nodiscard]] char peek(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }
  void skip(std::size_t count = 1) { at_ = std::min(at_ + count, text_.size()); }
  bool take(char wanted) {
    if (peek() != wanted || at_end()) return false;
    skip();
    return true;
  }
  // What stands from here to before the next `end`, which is passed over; false, without moving,
  // if the line has none.
  bool take_until(char end, std::string_view& inside) {
    const std::size_t found = text_.find(end, at_);
    if (found == text_.npos) return false;
    inside = text_.substr(at_, found - at_);
    at_ = found + 1;
    return true;
  }
  [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }
  [[nodiscard]] std::size_t offset() const { return at_; }
  [[nodiscard]] std::string_view since(std::size_t offset) const {
    return text_.substr(offset, at_ - offset);
  }

  // Digits here as a number; nothing, without moving, if there are none. More than 9 of them count
  // as the largest int.
  std::optional<int> take_number() {
    std::size_t length = 0;
    while (is_abc_digit(peek(length))) ++length;
    if (length == 0) return std::nullopt;
    const auto number = abc_number(text_.substr(at_, length));
    skip(length);
    return number.value_or(2'147'483'647);
  }

  // The place of an offset for messages. Going forward costs only what lies between.
  [[nodiscard]] AbcPlace place_of(std::size_t offset) {
    if (offset < counted_) {
      counted_ = 0;
      column_ = 1;
    }
    column_ += abc_column(text_.substr(counted_), offset - counted_) - 1;
    counted_ = offset;
    return {line_, column_};
  }
  [[nodiscard]] AbcPlace place() { return place_of(at_); }

 private:
  std::string_view text_;
  int line_;
  std::size_t at_ = 0;
  std::size_t counted_ = 0;  // characters before this offset are in column_
  int column_ = 1;
};

}  // namespace loftbeat::music
