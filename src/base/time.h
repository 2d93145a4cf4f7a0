#pragma once

#include <chrono>
#include <cstdint>

namespace loftbeat {

// Score time in ticks from the start of the score, pickup bar included. 10080 ticks make a
// quarter note, so that duplets to decuplets of every common value are whole numbers.
// Score time is never floating point; files speak of quarters.
using Tick = std::int64_t;
inline constexpr Tick kTicksPerQuarter = 10080;

[[nodiscard]] constexpr double quarters(Tick ticks) {
  return static_cast<double>(ticks) / static_cast<double>(kTicksPerQuarter);
}

// Nearest tick, halves away from zero. Range: |quarters| below 1e11.
[[nodiscard]] constexpr Tick ticks_from_quarters(double quarters) {
  const double t = quarters * static_cast<double>(kTicksPerQuarter);
  return static_cast<Tick>(t < 0 ? t - 0.5 : t + 0.5);
}

// Half-open stretch of score time [begin, end).
struct TickSpan {
  Tick begin = 0;
  Tick end = 0;
  [[nodiscard]] constexpr Tick length() const { return end - begin; }
  [[nodiscard]] constexpr bool contains(Tick t) const { return begin <= t && t < end; }
  friend constexpr bool operator==(const TickSpan&, const TickSpan&) = default;
};

// The clock of a take: integer nanoseconds from the start of the take. It is a type of its
// own, so that an instant is never mixed up with a time of day or with score time.
struct TakeClock {
  using duration = std::chrono::nanoseconds;
  using rep = duration::rep;
  using period = duration::period;
  using time_point = std::chrono::time_point<TakeClock>;
  static constexpr bool is_steady = true;
};
using Instant = TakeClock::time_point;
using Nanoseconds = std::chrono::nanoseconds;

[[nodiscard]] constexpr double seconds(Nanoseconds span) {
  return static_cast<double>(span.count()) * 1e-9;
}
[[nodiscard]] constexpr double seconds(Instant at) { return seconds(at.time_since_epoch()); }
[[nodiscard]] constexpr double milliseconds(Nanoseconds span) {
  return static_cast<double>(span.count()) * 1e-6;
}

// Nearest nanosecond, halves away from zero. Range: |seconds| below 9e9.
[[nodiscard]] constexpr Nanoseconds span_from_seconds(double s) {
  const double ns = s * 1e9;
  return Nanoseconds(static_cast<std::int64_t>(ns < 0 ? ns - 0.5 : ns + 0.5));
}
[[nodiscard]] constexpr Instant instant_from_seconds(double s) {
  return Instant(span_from_seconds(s));
}

}  // namespace loftbeat
