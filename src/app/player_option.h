#pragma once

#include <string>

#include "practice/player_file.h"
#include "practice/review.h"

namespace loftbeat::app {

// `--player FILE`, of `review` and `plan`.

// The file, or an empty one where there is none yet: a review begins it. Errors: what the reader
// says; the file is then left as it is.
[[nodiscard]] Result<practice::PlayerFile> player_to_learn(const std::string& path);

// Counts the take once, writes the file where that changes it, and says in the review's notices
// what was learned. Errors: the system refuses; the file is then as it was.
[[nodiscard]] Status learn_from(practice::Review& review, const take::Take& take,
                                const advise::ConsoleMap& console, const std::string& path,
                                practice::PlayerFile player);

// The times to plan with; the table's for an empty path. Errors: what the reader says; no file.
[[nodiscard]] Result<advise::PlayerTimes> player_to_plan_with(const std::string& path);

// Says which times are used, with their numbers, and ends with a line feed.
[[nodiscard]] std::string player_sentence(const std::string& path,
                                          const advise::PlayerTimes& player);

}  // namespace loftbeat::app
