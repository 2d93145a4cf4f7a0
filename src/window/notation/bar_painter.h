#pragma once

#include <QColor>

#include "window/notation/bar_picture.h"

class QFont;
class QPainter;

namespace loftbeat::window {

// Draws a picture in one colour; the painter's scale makes a unit as large as it is to be. Digits
// take `font`'s face.
void paint_bars(QPainter& painter, const BarPicture& picture, const QColor& ink, const QFont& font);

}  // namespace loftbeat::window
