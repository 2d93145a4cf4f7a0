#pragma once

#include <string>

#include "base/base.h"

namespace loftbeat::report {

// How a figure is written for a player. A true minus sign (U+2212) is used; what rounds to zero
// carries no sign.
struct NumberStyle {
  int decimals = 0;
  const char* unit = "";  // with its leading space, as " ms"
  enum class Sign { minus_only, always } sign = Sign::minus_only;
};

inline constexpr NumberStyle kTempo{1, ""};
inline constexpr NumberStyle kPercent{1, " %"};
inline constexpr NumberStyle kSignedPercent{1, " %", NumberStyle::Sign::always};
inline constexpr NumberStyle kSignedMs{0, " ms", NumberStyle::Sign::always};
inline constexpr NumberStyle kMs{0, " ms"};
inline constexpr NumberStyle kBeats{2, ""};
inline constexpr NumberStyle kSignedBeats{2, "", NumberStyle::Sign::always};
inline constexpr NumberStyle kSeconds{2, " s"};
inline constexpr NumberStyle kSone{1, " sone"};
inline constexpr NumberStyle kWhole{0, ""};

// Example: write_number(-0.04, {1, " %", always}) is "0.0 %"; write_number(-2.46, ...) "−2.5 %".
[[nodiscard]] std::string write_number(double value, NumberStyle style);

// As write_number, without zeros at the end of the decimals: 3.0 is "3", 2.5 is "2.5".
[[nodiscard]] std::string write_short(double value, NumberStyle style);

// `absent` where there is no value (or none that is finite).
[[nodiscard]] std::string write_figure(const Measured<double>& figure, NumberStyle style,
                                       const char* absent = "–");

// Milliseconds as a player reads them: below one second "+240 ms", from there on "+1.24 s".
[[nodiscard]] std::string write_signed_span(double ms);

// "1:05.3": minutes and seconds from the start of the take.
[[nodiscard]] std::string write_clock(double seconds);

}  // namespace loftbeat::report
