#pragma once

#include <string>

#include "practice/review.h"

namespace loftbeat::practice {

// One plain sentence: what was heard, and what to practise for it.
[[nodiscard]] std::string sentence(const Review& review, const Finding& finding);

// At most five sentences from review.findings, worst first; if there are none, what went well.
inline constexpr std::size_t kMostAdvice = 5;
[[nodiscard]] std::vector<std::string> advice(const Review& review);

}  // namespace loftbeat::practice
