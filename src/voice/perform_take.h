#pragma once

#include "organ/organ.h"
#include "take/take.h"
#include "voice/performance.h"

namespace loftbeat::voice {

// A take as the organ would have sounded it: keys go to the divisions of their channels (or by the
// split), stop and swell messages move what the organ file maps them to, on top of `drawn`. Key
// velocity and the sustain pedal mean nothing to pipes. Times are those of the take; the first
// event may be later than 0.
//
// Errors (no_fit): no note of the take belongs to a division, with the channels that were met.
// Notes that belong to none are counted in a notice.
[[nodiscard]] Result<Performance> perform(const take::Take& take, const organ::Organ& organ,
                                          const organ::Registration& drawn);

}  // namespace loftbeat::voice
