#pragma once

#include <vector>

#include "take/strokes.h"

namespace loftbeat::take {

// By slot: it is played by a machine and not by the player.
//
// Drums: channel 10 beside other channels, with keys of the General MIDI percussion map and its
// extension (27 to 87; from memory), unless its keys are held like an organ's (median a quarter
// of a second or more). An accompaniment: a channel whose strikes lie, within 2.5 ms, on the very
// grid of drums that are themselves as regular as a machine; and only while some other channel
// does not. Without such drums nothing is left out: a player may be very regular.
// `left_out` slots are not looked at.
[[nodiscard]] std::vector<bool> find_accompaniment(const Strokes& strokes,
                                                   const std::vector<bool>& left_out);

}  // namespace loftbeat::take
