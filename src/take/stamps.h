#pragma once

#include "take/take.h"

namespace loftbeat::take {

// Half the step of the lattice on which the stamps of a take lie; 0 if it is finer than 0.1 ms.
//
// Two sources: the tick of the file (Take::stamp_step), and the stamps themselves, which show
// how they were delivered: USB frames of 1 ms, or wireless MIDI that hands over whatever came
// in between every 7.5 to 20 ms. A step from 1 to 20 ms in quarters of a millisecond is believed
// if nine tenths of at least 50 gaps lie within a tenth of a step of a multiple of it, over at
// least ten different multiples; a take without any jitter, as a notation program plays it, has
// but a few different gaps and is not mistaken for one.
// Worked example: stamps on whole milliseconds -> 0.5 ms.
[[nodiscard]] Nanoseconds stamp_uncertainty(const Take& take);

}  // namespace loftbeat::take
