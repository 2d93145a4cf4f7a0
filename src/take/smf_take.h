#pragma once

#include <string>
#include <string_view>

#include "take/take.h"

namespace loftbeat::take {

// Reads a Standard MIDI File (format 0 or 1) as a performance; its tempo map is honoured.
[[nodiscard]] Result<Take> read_take(const std::string& path);
[[nodiscard]] Result<Take> parse_take(std::string_view bytes, const std::string& name);

// Writes a take as a format 0 file whose tick is 20 microseconds (division 25000, 120 a minute).
// Instants are rounded to the nearest tick; nothing else is lost.
[[nodiscard]] std::string format_take(const Take& take);

}  // namespace loftbeat::take
