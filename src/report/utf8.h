#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace loftbeat::report {

// Text from files is not trusted: it may hold bytes that are no UTF-8, or control characters
// that a terminal would obey. Both become U+FFFD here; a tab or line end becomes a space.
[[nodiscard]] std::string clean_text(std::string_view text);

// Columns that clean text takes on a terminal. Combining marks take none; wide East Asian
// letters and emoji two. Example: "play-over → 1" takes 13.
[[nodiscard]] std::size_t display_width(std::string_view clean);

// For HTML and SVG, in text and in quoted attributes: clean_text with & < > " ' escaped.
[[nodiscard]] std::string escape_markup(std::string_view text);

}  // namespace loftbeat::report
