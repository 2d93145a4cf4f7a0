#pragma once

#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::practice {

// Plain words for what a review says.

// "the play-over", "verse 2", "the Amen"; with the run where the take holds several.
[[nodiscard]] std::string pass_name(const Review& review, int pass);
// "the play-over and verses 1, 3 and 4"; "verse 2 and the Amen". Requires one pass or more.
[[nodiscard]] std::string pass_names(const Review& review, const std::vector<int>& passes);
// "from verse 1 to verse 2".
[[nodiscard]] std::string join_name(const Review& review, int join);
[[nodiscard]] std::string texture_name(plan::Texture texture);

// A figure as a player reads it: "0.4", "12", "1 3/4" is not used. At most one decimal below ten,
// none above. Worked number: 3.14 -> "3.1", 12.6 -> "13".
[[nodiscard]] std::string figure_text(double figure);
// "1 beat", "2 beats", "0.4 of a beat".
[[nodiscard]] std::string beats_text(double beats);
// The first letter made large.
[[nodiscard]] std::string sentence_case(std::string text);

}  // namespace loftbeat::practice
