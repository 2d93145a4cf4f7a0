#pragma once

#include <QString>

#include "report/join_strip.h"
#include "timing/measures.h"
#include "window/desk/theme.h"

class QPainter;

namespace loftbeat::window {

// Draws one row of the join strip: above what was planned (open shapes), below what was played
// (full shapes), and between both entries the error as a thick line.
void paint_join(QPainter& painter, const report::JoinRow& row, const Theme& theme);

// "3.1 beats held, 0.9 silent, in all 4; planned 4."
[[nodiscard]] QString join_figures(const timing::JoinMeasures& join);

}  // namespace loftbeat::window
