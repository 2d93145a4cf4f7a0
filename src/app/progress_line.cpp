#include "app/progress_line.h"

#include <algorithm>
#include <cstdio>

#include <fmt/format.h>
#include <unistd.h>

namespace loftbeat::app {

ProgressLine::ProgressLine() : watched_(isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  show("");
  if (watched_) std::fputs("\r", stderr);
}

void ProgressLine::show(const std::string& text) {
  if (!watched_ || text == shown_) return;
  const std::size_t wiped = shown_.size() > text.size() ? shown_.size() - text.size() : 0;
  std::fputs(fmt::format("\r{}{}", text, std::string(wiped, ' ')).c_str(), stderr);
  std::fflush(stderr);
  shown_ = text;
}

std::string bar_text(double share) {
  constexpr std::size_t kWidth = 40;
  const double clamped = std::clamp(share, 0.0, 1.0);
  const auto filled = static_cast<std::size_t>(clamped * kWidth);
  return fmt::format("[{}{}] {:3.0f} %", std::string(filled, '#'),
                     std::string(kWidth - filled, '.'), 100 * clamped);
}

std::string clock_text(double seconds) {
  const auto whole = static_cast<long>(std::max(0.0, seconds));
  return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

}  // namespace loftbeat::app
