#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "music/abc.h"

// How an ABC file divides into tunes and lines. Inside the reader only.
namespace loftbeat::music {

struct AbcLine {
  std::string_view text;  // without its end
  int number = 0;         // in the file, from 1
};

// Goes through lines one by one. What stands between %%begin... and %%end... (text and drawing
// instructions) is passed over whole.
class AbcLineReader {
 public:
  static constexpr std::size_t kBlockKinds = 5;

  AbcLineReader(std::string_view text, int first_line) : text_(text), line_(first_line) {}
  std::optional<AbcLine> next();
  // Where the line that `next` gave last begins in the text.
  [[nodiscard]] std::size_t line_start() const { return start_; }

 private:
  std::optional<AbcLine> plain_next();

  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t start_ = 0;
  int line_ = 1;
  std::array<bool, kBlockKinds> unclosed_ = {};  // kinds of block that no line ends any more
};

// A field line: one letter, or + for the line before going on, and a colon. Notes before a
// repeat sign at the start of a line ("A:|") are none.
[[nodiscard]] std::optional<char> abc_field_letter(std::string_view line);

// `line` up to a comment; "\%" begins none.
[[nodiscard]] std::string_view without_abc_comment(std::string_view line);

// Where one tune stands in the text.
struct AbcTuneText {
  AbcTune about;
  std::string_view text;
};

struct AbcFileText {
  std::string_view header;  // before the first tune: fields and directives for all
  std::vector<AbcTuneText> tunes;
};

// Divides a file: a tune begins with X: (in a file without any, with its first field) and ends with
// an empty line or the next X:. Throws ReadFailure for more than kMaxAbcTunes tunes, or none.
[[nodiscard]] AbcFileText divide_abc(std::string_view text, const std::string& name);

}  // namespace loftbeat::music
