#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace loftbeat::music {

// Voices from the top of the system down, staff by staff.
using AbcStaves = std::vector<std::vector<std::string>>;

// What %%score or %%staves says: voices within parentheses share a staff, any other has its own.
// Brackets, braces, bar lines and stars say nothing of that and are passed over.
// Example: "(S A) | (T B)" -> two staves of two voices; "[1 2]" -> two staves.
[[nodiscard]] AbcStaves parse_abc_staves(std::string_view text);

// Adds the voices of a later directive that the first does not name, each staff of them below.
void add_abc_staves(AbcStaves& staves, const AbcStaves& more);

}  // namespace loftbeat::music
