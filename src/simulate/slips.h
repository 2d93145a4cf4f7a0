#pragma once

#include "simulate/voicing.h"

namespace loftbeat::simulate {

// Adds what goes amiss with single notes: wrong, missed, extra, doubled, trills, corrections,
// repeated notes held on. Keeps strokes sorted; fills in `held`.
void slip(const Stage& stage, PlayedAct& played);

}  // namespace loftbeat::simulate
