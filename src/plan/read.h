#pragma once

#include <string>
#include <string_view>

#include "plan/plan.h"

namespace loftbeat::plan {

// Reads a `*.plan.toml`. Unknown keys and wrong types are refused with file, line, what was
// expected and the nearest known key. Does not open the score.
[[nodiscard]] Result<Plan> read_plan(const std::string& path);
[[nodiscard]] Result<Plan> parse_plan(std::string_view text, const std::string& path);

// Writes a plan so that parse_plan gives the same value back.
[[nodiscard]] std::string format_plan(const Plan& plan);

// "3+1" (hold + lift), "bar" or "bar+1" (by the bar, with one extra bar).
[[nodiscard]] Result<Join> parse_join(std::string_view text);
[[nodiscard]] Result<BeatUnit> parse_beat_unit(std::string_view text);
[[nodiscard]] Result<PlayOver> parse_play_over(std::string_view text);

[[nodiscard]] std::string to_string(BeatUnit unit);
[[nodiscard]] std::string to_string(Texture texture);
[[nodiscard]] std::string to_string(const Join& join);

}  // namespace loftbeat::plan
