#pragma once

#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::report {

// Sentences and lists that the terminal text and the page share.

// "Set tempo 72 a minute (quarter note)."
[[nodiscard]] std::string tempo_line(const practice::Review& review);

// "4 passes: play-over, verse 1, verse 2, verse 3."; how the labels were found where not planned.
[[nodiscard]] std::string passes_line(const practice::Review& review);

// What the play-over promised, a sentence each: tempo, slowing at the end, strength.
[[nodiscard]] std::vector<std::string> play_over_lines(const practice::Review& review);

// What happened where: another texture than planned, another key; then restarts, corrections with
// the time they cost and hesitations by their place in the score, pass after pass.
[[nodiscard]] std::vector<std::string> place_lines(const practice::Review& review);

// Why figures are missing, each reason once: "feet to hands: the take has no pedal division".
[[nodiscard]] std::vector<std::string> reason_lines(const practice::Review& review);

// The score's bar at a tick, as printed; empty if the score has no bars.
[[nodiscard]] std::string bar_of(const practice::Review& review, Tick at);

}  // namespace loftbeat::report
