#include "app/terminal_choice.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <charconv>
#include <cstdlib>

namespace loftbeat::app {
namespace {

constexpr int kNarrowest = 20;
constexpr int kWidest = 1000;
constexpr int kUsual = 80;

bool sensible(int columns) { return columns >= kNarrowest && columns <= kWidest; }

int number_in(const std::string& text) {
  int number = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, number);
  return error == std::errc() && stop == end ? number : 0;
}

std::optional<std::string> variable(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): before any thread
  if (value == nullptr) return std::nullopt;
  return value;
}

}  // namespace

report::TerminalStyle choose_style(const TerminalFacts& facts) {
  report::TerminalStyle style;
  const int asked = facts.columns ? number_in(*facts.columns) : 0;
  style.width = kUsual;
  if (sensible(asked)) {
    style.width = asked;
  } else if (facts.is_terminal && sensible(facts.window_columns)) {
    style.width = facts.window_columns;
  }
  const bool unwanted = facts.no_color && !facts.no_color->empty();
  const bool dumb = facts.term && *facts.term == "dumb";
  if (facts.is_terminal && !unwanted && !dumb) style.colour = report::TerminalStyle::Colour::ansi;
  return style;
}

TerminalFacts look_at_terminal() {
  TerminalFacts facts;
  facts.is_terminal = ::isatty(STDOUT_FILENO) == 1;
  winsize window{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0) facts.window_columns = window.ws_col;
  facts.columns = variable("COLUMNS");
  facts.no_color = variable("NO_COLOR");
  facts.term = variable("TERM");
  return facts;
}

}  // namespace loftbeat::app
