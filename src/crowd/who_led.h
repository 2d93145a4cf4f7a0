#pragma once

#include <string>
#include <vector>

#include "base/measured.h"
#include "crowd/crowd_record.h"
#include "follow/alignment.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::crowd {

// Who led: the player, or the people who sang along? Told from when the player struck the beats
// (the alignment) and when the people passed them (the record).
//
// Lag of a beat: people's c less player's p, less the way of the sound d = metres / 343.2 s: how
// far they are behind the organ as they hear it. Positive = people late. What the player hears is 2
// d more. Worked number: p 10.000 s, c 10.158 s, 20 m: lag 0.158 - 0.058 = 100 ms.
//
// Giving way: the player's beats grow longer while people lag. Within a verse the lag is nearly
// steady (keeping_together.h), so a regression of the player's change of tempo on it has nothing to
// hold on to; what tells is whether the beat goes on growing. So: Theil-Sen slope of the player's
// beat-to-beat intervals over the beats of a verse; and, to catch slow yielding, the same over all
// sung verses in a row. Left out: intervals across phrase ends and held notes (breath), the first
// beat, the last two, and a planned broadening. A verse is `gave_way` if
//   1. the slope over the verse comes to at least 4 % (tempo differences are noticed from 3 %:
//   Drake
//      and Botte 1993; a percent more, since people's own tempo wanders),
//   2. and to at least 3.5 times its standard uncertainty, in which the scatter of all verses
//   counts at least, as few
//      intervals may lie together by chance (so that a firm player is wrongly told so
//      less than once in 100 takes), and
//   3. the median lag is at least 10 ms. No more: who gives way wholly leaves no lag. Whoever slows
//      down by himself has the people ahead of him, since they follow him late.
// It is `firm` if the median lag is at least 25 ms and 2.5 % of the beat (a shift that is noticed:
// Friberg and Sundberg 1995); below that there was nothing to hold out against, `not_tested`. A
// player who slows down by himself while people lag cannot be told from one who gives way; nor can
// one who was as slow from his first beat on: whoever plays slowly is not scolded here.
enum class Led { firm, gave_way, not_tested, unknown };

struct PhraseLag {
  int phrase = 1;              // from 1
  int beats = 0;               // compared
  Measured<double> lag_ms;     // median
  Measured<double> spread_ms;  // half the distance between the quartiles
  Measured<double> tempo_bpm;  // the player's, median of the intervals
};

struct VerseLed {
  std::string label;
  int pass = 0;                          // index into Alignment::passes
  int beats = 0;                         // compared
  Measured<double> entry_ms;             // lag at the first beat compared: how late people came in
  Measured<double> lag_ms;               // median, the first four beats (the entry) left out
  Measured<double> spread_ms;            // half the distance between the quartiles
  Measured<double> tempo_bpm;            // median
  Measured<double> begin_bpm;            // by the slope, at the first and ...
  Measured<double> end_bpm;              // ... at the last beat used
  Measured<double> slowing_percent;      // beat length, end against begin; positive = slower
  Measured<double> uncertainty_percent;  // standard, of that
  Led led = Led::unknown;
  std::vector<PhraseLag> phrases;  // those with beats
};

struct WhoLed {
  std::vector<VerseLed> verses;          // those that people sang in
  Measured<double> lag_ms;               // median over all verses
  Measured<double> slowing_percent;      // over all verses in a row
  Measured<double> uncertainty_percent;  //
  Led led = Led::unknown;                // gave_way if it is so in any verse, or over all
  std::string sentence;                  // for the review
};

struct LedQuestion {
  const music::Score& score;
  const plan::Route& route;
  const follow::Alignment& alignment;
  const CrowdRecord& record;
  plan::BeatUnit beat = plan::BeatUnit::quarter;
};

inline constexpr double kLeastLagGivingWayMs = 10;
inline constexpr double kLeastLagMs = 25;
inline constexpr double kLeastLagPercent = 2.5;  // of the beat
inline constexpr double kLeastSlowingPercent = 4;
inline constexpr double kLeastSlowingUncertainties = 3.5;
// Fewer beats or intervals than this tell nothing.
inline constexpr std::size_t kLeastLedBeats = 8;

[[nodiscard]] WhoLed who_led(const LedQuestion& question);

// "You led: 4 verses at 84 in a minute, the people 110 ms behind you."
[[nodiscard]] std::string led_sentence(const WhoLed& led);

}  // namespace loftbeat::crowd
