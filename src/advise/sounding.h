#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "advise/stop_powers.h"
#include "organ/organ.h"

namespace loftbeat::advise {

// One key held down, [on_s, off_s) in seconds from the start of what is measured.
struct KeySpan {
  double on_s = 0;
  double off_s = 0;
  organ::Speaking pressed;  // division and key
};

// A key's pipes, and for what share of the time they speak.
struct Sounding {
  organ::Speaking speaking;
  double share = 1;
};

// A chord held: every key that speaks, through the couplers drawn, each once.
[[nodiscard]] std::vector<Sounding> sounding_chord(const organ::Organ& organ,
                                                   const organ::Registration& drawn,
                                                   std::span<const organ::Speaking> pressed);

// Music as one mean sound: for what share of the time in which any key is down each key speaks.
// Empty for no keys. Sound power averaged so is that of the energy (an equivalent level).
[[nodiscard]] std::vector<Sounding> mean_sounding(const organ::Organ& organ,
                                                  const organ::Registration& drawn,
                                                  std::span<const KeySpan> keys);

// How much of each stop's power leaves its division: the swell box where it stands, one row for
// each division. Taken at the middle of each third octave.
[[nodiscard]] std::vector<Power> box_gains(const organ::Organ& organ,
                                           const organ::Registration& drawn);

// Sound power of one stop alone, whether it is drawn or not.
[[nodiscard]] Power stop_power(const organ::Organ& organ, const StopPowers& powers,
                               std::size_t stop, std::span<const Sounding> sounding,
                               const Power& box_gain);

// Sound power of what is drawn, stops as incoherent sources. With 20 stops and six keys a few
// microseconds. Wind and tremulant are left out: a tremulant moves no power on average.
[[nodiscard]] Power registration_power(const organ::Organ& organ, const organ::Registration& drawn,
                                       const StopPowers& powers,
                                       std::span<const Sounding> sounding);

}  // namespace loftbeat::advise
