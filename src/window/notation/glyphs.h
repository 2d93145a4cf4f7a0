#pragma once

#include <QPainterPath>

#include "window/notation/bar_picture.h"

namespace loftbeat::window {

// The outline of a sign, to be filled; units and origin as at Glyph. Drawn for this program, so
// that no font is needed.
[[nodiscard]] QPainterPath glyph_path(Glyph glyph, int count = 1);

}  // namespace loftbeat::window
