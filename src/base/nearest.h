#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace loftbeat {

// Number of single slips that turn `a` into `b`: a letter left out, put in, changed, or two
// neighbours swapped. Bytes are compared, case counts.
// Examples: "tempo", "tmepo" -> 1; "verse", "verses" -> 1; "" , "abc" -> 3.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

// The entry of `known` that `wanted` was most likely meant to be, or "" if none is near: at most
// two slips, or a third of the longer word where that is more. The first of equals wins.
// Words over 64 bytes are never near anything, so hostile input costs nothing.
[[nodiscard]] std::string nearest(std::string_view wanted, const std::vector<std::string>& known);

// The sentence for a message: `Did you mean "tempo"?`, or `Known here: beat, tempo.`, or "" if
// nothing is known.
[[nodiscard]] std::string nearest_hint(std::string_view wanted,
                                       const std::vector<std::string>& known);

}  // namespace loftbeat
