#include "music/abc_lines.h"

#include <algorithm>
#include <array>
#include <string>

#include "music/abc_text.h"
#include "music/musicxml_text.h"

namespace loftbeat::music {
namespace {

bool line_starts_with(std::string_view line, std::string_view start) {
  return line.substr(0, start.size()) == start;
}

constexpr std::array<std::string_view, AbcLineReader::kBlockKinds> kBlockNames = {
    "text", "ps", "svg", "ml", "js"};

// Which kind of block %%begin... opens: 0, text, for "%%begintext obeylines".
std::optional<std::size_t> opened_block(std::string_view line) {
  constexpr std::string_view kBegin = "%%begin";
  if (!line_starts_with(line, kBegin)) return std::nullopt;
  const std::string_view name = line.substr(kBegin.size());
  for (std::size_t kind = 0; kind < kBlockNames.size(); ++kind) {
    if (line_starts_with(name, kBlockNames[kind])) return kind;
  }
  return std::nullopt;
}

class TuneDivider {
 public:
  TuneDivider(std::string_view text, std::string name) : text_(text), name_(std::move(name)) {}

  AbcFileText divide(char first_field) {
    AbcLineReader lines(text_, 1);
    while (const auto line = lines.next()) {
      const auto field = abc_field_letter(line->text);
      const bool begins = first_field == 'X' ? field == 'X' : file_.tunes.empty() && field;
      if (begins) {
        close(lines.line_start());
        open(*line, lines.line_start());
      } else if (begin_ && abc_trimmed(line->text).empty()) {
        close(lines.line_start());
      }
      if (begin_ && field == 'T' && file_.tunes.back().about.title.empty()) {
        file_.tunes.back().about.title = plain_abc_text(without_abc_comment(line->text).substr(2));
      }
    }
    close(text_.size());
    return std::move(file_);
  }

 private:
  void open(const AbcLine& line, std::size_t at) {
    if (file_.tunes.empty()) file_.header = text_.substr(0, at);
    if (file_.tunes.size() >= kMaxAbcTunes) {
      throw ReadFailure{{ErrorKind::too_large,
                         "the file holds more than 100000 tunes; expected fewer.", name_,
                         line.number, 1}};
    }
    AbcTuneText tune;
    tune.about.line = line.number;
    if (abc_field_letter(line.text) == 'X') {
      std::string_view digits = abc_trimmed(line.text.substr(2));
      digits = digits.substr(0, std::min(digits.find_first_not_of("0123456789"), digits.size()));
      tune.about.number = abc_number(digits).value_or(0);
    }
    file_.tunes.push_back(std::move(tune));
    begin_ = at;
  }

  void close(std::size_t end) {
    if (begin_) file_.tunes.back().text = text_.substr(*begin_, end - *begin_);
    begin_.reset();
  }

  std::string_view text_;
  std::string name_;
  AbcFileText file_;
  std::optional<std::size_t> begin_;  // of the tune under way
};

bool has_key_field(std::string_view text) {
  AbcLineReader lines(text, 1);
  while (const auto line = lines.next()) {
    if (abc_field_letter(line->text) == 'K') return true;
  }
  return false;
}

}  // namespace

std::optional<AbcLine> AbcLineReader::plain_next() {
  if (at_ >= text_.size()) return std::nullopt;
  start_ = at_;
  const std::size_t end = std::min(text_.find_first_of("\r\n", at_), text_.size());
  const AbcLine line{text_.substr(at_, end - at_), line_++};
  at_ = end < text_.size() && text_[end] == '\r' && end + 1 < text_.size() && text_[end + 1] == '\n'
            ? end + 2
            : end + 1;
  return line;
}

std::optional<AbcLine> AbcLineReader::next() {
  const auto line = plain_next();
  if (!line) return line;
  const auto block = opened_block(line->text);
  if (!block) return line;
  const AbcLine comment{"%", line->number};  // stands for the block
  if (unclosed_[*block]) return comment;
  const AbcLineReader here = *this;
  const std::string end = "%%end" + std::string(kBlockNames[*block]);
  while (const auto inside = plain_next()) {
    if (!line_starts_with(inside->text, end)) continue;
    start_ = here.start_;
    return comment;
  }
  *this = here;  // never closed: an ordinary line, and so are all that follow
  unclosed_[*block] = true;
  return comment;
}

std::optional<char> abc_field_letter(std::string_view line) {
  if (line.size() < 2 || line[1] != ':') return std::nullopt;
  if (!is_abc_letter(line[0]) && line[0] != '+') return std::nullopt;
  const bool repeat = line.size() > 2 && (line[2] == '|' || line[2] == ':');
  if (repeat && line[0] != 'w' && line[0] != 'W' && line[0] != 'T') return std::nullopt;
  return line[0];
}

std::string_view without_abc_comment(std::string_view line) {
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '%' && (i == 0 || line[i - 1] != '\\')) return line.substr(0, i);
  }
  return line;
}

AbcFileText divide_abc(std::string_view text, const std::string& name) {
  AbcFileText file = TuneDivider(text, name).divide('X');
  if (file.tunes.empty() && has_key_field(text)) file = TuneDivider(text, name).divide('?');
  if (file.tunes.empty()) {
    throw ReadFailure{{ErrorKind::unreadable,
                       "this is no ABC; expected a tune that begins with X: and a number.", name, 1,
                       1}};
  }
  return file;
}

}  // namespace loftbeat::music
