#pragma once

#include <string>
#include <vector>

#include "app/listen_practice.h"
#include "practice/review.h"

namespace loftbeat::app {

// The review of a practice that was kept. Errors: what practice::review says.
[[nodiscard]] Result<practice::Review> review_of(const ListenWork& work,
                                                 const ListenOutcome& outcome);

// How a try of a part (or of the whole) begins, the first being number 1: the day's first of a
// play-over is cold, without count-in, as in a service.
[[nodiscard]] Begin begin_of_try(const ListenPlace& place, int number);

// What is said before a try of a part: "Try 2."
[[nodiscard]] std::string try_greeting(int number, Begin begin);

// After a try of a part: the few figures that it is about, a sentence each.
[[nodiscard]] Result<std::vector<std::string>> try_words(const ListenPlace& place,
                                                         const ListenOutcome& outcome);

}  // namespace loftbeat::app
