#pragma once

#include <optional>
#include <span>

#include "advise/hall.h"
#include "advise/sounding.h"

namespace loftbeat::advise {

// A pass as it goes on in time: loudness of every tenth of a second, the church ringing on. These
// are percentiles of steady-sound loudness, Loftbeat's own figures, and not the time-varying
// loudness of ISO 532-1.
struct OverTime {
  double seconds = 0;
  double n5_sone = 0;  // exceeded 5 % of the time: the loud chords
  double n50_sone = 0;
  double n95_sone = 0;  // exceeded 95 % of the time: the lifts, if there are any
  std::optional<double> median_sharpness_acum;  // where there is any sound
};

inline constexpr double kWindowS = 0.1;

// From the first key down to the last key up, in whole windows. The sound of each third octave
// rises and dies away as a diffuse field of Sabine's time T does, with time constant T / 13.8.
// Worked number: T = 2 s, a chord that stops: after a second 30 dB softer. None without keys.
// Spans of more than an hour are measured for their first hour.
[[nodiscard]] std::optional<OverTime> measure_over_time(const organ::Organ& organ,
                                                        const organ::Registration& drawn,
                                                        const StopPowers& powers,
                                                        std::span<const KeySpan> keys,
                                                        const Hall& hall);

}  // namespace loftbeat::advise
