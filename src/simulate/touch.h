#pragma once

#include "simulate/voicing.h"

namespace loftbeat::simulate {

// Gives every stroke its onset and its release, by the act's times and the player's hands.
void touch(const Stage& stage, PlayedAct& played);

}  // namespace loftbeat::simulate
