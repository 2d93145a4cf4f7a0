#pragma once

#include <optional>
#include <vector>

#include "timing/pulse.h"

namespace loftbeat::timing {

// A slowing at the end of a pass that was not planned: the tempo of the last four beats (of the
// second half, if the pass has fewer than eight; two at least) against that of up to sixteen
// beats before. Worked number: 0.75 s a beat, then 0.80 s: 100 * (1 - 0.75 / 0.80) = 6.25 %.
//
// A short play-over has few beats before its end. There the tempo that the next verse opens with
// helps: it is averaged in, each weighed by the inverse square of its standard uncertainty, and
// that of the verse's tempo includes half the tolerance by which the two may differ.
// Uncertainties rest on the player's usual jitter: that of a pass which slows holds the slowing.
// Worked number: before 1.00 +- 0.02 s, verse 0.96 +- 0.02 s: 0.98 +- 0.014 s.
struct EndSlowing {
  double from = 0;      // place where the end begins
  double before_s = 0;  // seconds a beat before it
  double before_uncertainty_s = 0;
  double end_s = 0;    // seconds a beat in it
  double percent = 0;  // positive = slower
  double uncertainty_percent = 0;

  // The slowest single beat of a fall that is even: twice the mean loss. At least 1.
  [[nodiscard]] double slowest_factor() const;
};

inline constexpr double kEndBeats = 4;
inline constexpr double kBeforeEndBeats = 16;

// A period known from elsewhere.
struct KnownPeriod {
  double period_s = 0;
  double uncertainty_s = 0;
};

// Nothing without a pulse, or if too few struck beats lie on either side.
[[nodiscard]] std::optional<EndSlowing> end_slowing(const Pulse& pulse,
                                                    const std::optional<KnownPeriod>& next_verse);

// True if it exceeds the tolerance by more than twice its standard uncertainty.
[[nodiscard]] bool surely_slows(const EndSlowing& slowing, double tolerance_percent);

}  // namespace loftbeat::timing
