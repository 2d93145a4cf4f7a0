#include <fmt/format.h>

#include "base/toml_node.h"

namespace loftbeat {
namespace {

// Walks over the text knowing only strings, comments and brackets. Where the text is not TOML it
// may stop early; the parser then stops at the same place and says why.
class NestingScan {
 public:
  explicit NestingScan(std::string_view text) : text_(text) {}

  // The line where the limit is passed, or 0.
  int too_deep(int limit) {
    while (at_ < text_.size()) {
      step();
      if (open_ > limit || dots_ > limit) return line_;
    }
    return 0;
  }

 private:
  void step() {
    const char c = text_[at_];
    if (c == '"' || c == '\'') return skip_string(c);
    if (c == '#') return skip_comment();
    ++at_;
    switch (c) {
      case '\n':
        ++line_;
        dots_ = 0;
        break;
      case '[':
      case '{':
        ++open_;
        dots_ = 0;
        break;
      case ']':
      case '}':
        if (open_ > 0) --open_;
        dots_ = 0;
        break;
      case '=':
      case ',': dots_ = 0; break;
      case '.': ++dots_; break;
      default: break;
    }
  }

  void skip_comment() {
    while (at_ < text_.size() && text_[at_] != '\n') ++at_;
  }

  void skip_string(char quote) {
    const std::string_view triple = quote == '"' ? "\"\"\"" : "'''";
    if (text_.substr(at_, 3) == triple) {
      at_ += 3;
      while (at_ < text_.size() && text_.substr(at_, 3) != triple) skip_one(quote);
      at_ += 3;
      // A closing run may hold one or two quotes more.
      while (at_ < text_.size() && text_[at_] == quote) ++at_;
      return;
    }
    ++at_;
    while (at_ < text_.size() && text_[at_] != quote) {
      if (text_[at_] == '\n') {
        at_ = text_.size();  // not TOML
        return;
      }
      skip_one(quote);
    }
    ++at_;
  }

  void skip_one(char quote) {
    if (text_[at_] == '\n') ++line_;
    if (quote == '"' && text_[at_] == '\\' && at_ + 1 < text_.size() && text_[at_ + 1] != '\n') {
      ++at_;
    }
    ++at_;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  int open_ = 0;
  int dots_ = 0;
};

}  // namespace

Status check_toml_nesting(std::string_view text, const std::string& name,
                          const TomlLimits& limits) {
  const int line = NestingScan(text).too_deep(limits.depth);
  if (line == 0) return {};
  return Error{ErrorKind::too_large,
               fmt::format("is nested more than {} levels deep here.", limits.depth),
               name,
               line,
               0,
               "Write it flatter."};
}

}  // namespace loftbeat
