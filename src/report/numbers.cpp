#include "report/numbers.h"

#include <cmath>

#include <fmt/format.h>

namespace loftbeat::report {
namespace {

std::string digits(double magnitude, int decimals) {
  return fmt::format("{:.{}f}", magnitude, decimals);
}

bool is_zero(const std::string& text) { return text.find_first_not_of("0.") == std::string::npos; }

void drop_zeros(std::string& text) {
  if (text.find('.') == std::string::npos) return;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
}

const char* sign_of(double value, const std::string& text, NumberStyle style) {
  if (is_zero(text)) return "";
  if (value < 0) return "−";
  return style.sign == NumberStyle::Sign::always ? "+" : "";
}

}  // namespace

std::string write_number(double value, NumberStyle style) {
  const std::string text = digits(std::abs(value), style.decimals);
  return sign_of(value, text, style) + text + style.unit;
}

std::string write_short(double value, NumberStyle style) {
  std::string text = digits(std::abs(value), style.decimals);
  drop_zeros(text);
  return sign_of(value, text, style) + text + style.unit;
}

std::string write_figure(const Measured<double>& figure, NumberStyle style, const char* absent) {
  if (!figure || !std::isfinite(*figure)) return absent;
  return write_number(*figure, style);
}

std::string write_signed_span(double ms) {
  if (std::abs(ms) < 999.5) return write_number(ms, kSignedMs);
  return write_number(ms / 1000, {2, " s", NumberStyle::Sign::always});
}

std::string write_clock(double seconds) {
  const auto tenths = static_cast<long long>(std::llround(seconds * 10));
  return fmt::format("{}:{:02}.{}", tenths / 600, tenths / 10 % 60, tenths % 10);
}

}  // namespace loftbeat::report
