#pragma once

#include "report/ribbon.h"
#include "window/desk/theme.h"

class QPainter;

namespace loftbeat::window {

// Draws a pass's ribbon; the painter's scale makes report/ribbon.h's units as large as they are to
// be. Behind is hatched and hangs, ahead is dotted and rises. `chosen`: index of a beat, or -1.
void paint_ribbon(QPainter& painter, const report::Ribbon& ribbon, const report::RibbonScale& scale,
                  const Theme& theme, int chosen);

// Type inside the drawings, in their units.
inline constexpr int kDrawnType = 12;

}  // namespace loftbeat::window
