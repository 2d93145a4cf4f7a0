#pragma once

#include <string>

#include "practice/review.h"

namespace loftbeat::report {

// The review as one HTML file: no script, nothing fetched from anywhere, drawings as inline SVG.
// For a screen (light or dark, wide or narrow), for A4 paper, and for a screen reader: every
// drawing has a title, a description and a table of its figures. Nothing is told by colour alone.
[[nodiscard]] std::string format_page(const practice::Review& review);

}  // namespace loftbeat::report
