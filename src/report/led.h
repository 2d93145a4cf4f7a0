#pragma once

#include <string>
#include <vector>

#include "practice/review.h"
#include "report/table.h"

namespace loftbeat::report {

// Who led, where people sang along: a row for each verse that they sang. Empty if nobody sang.
[[nodiscard]] Table led_table(const practice::Review& review);
// What it comes to, in a sentence or two.
[[nodiscard]] std::vector<std::string> led_lines(const practice::Review& review);
// "firm", "gave-way": names of the JSON.
[[nodiscard]] std::string_view led_name(crowd::Led led);

}  // namespace loftbeat::report
