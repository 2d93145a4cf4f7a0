#include "window/notation/bar_painter.h"

#include <QFont>
#include <QPainter>

#include "window/notation/glyphs.h"

namespace loftbeat::window {
namespace {

constexpr double kBeamHalf = 0.25;

QPainterPath tie_path(const PlacedTie& tie) {
  const double up = tie.bend == PlacedTie::Bend::up ? -1 : 1;
  const double third = (tie.x2 - tie.x1) / 4;
  const double deep = tie.y + up * 0.75;
  const double flat = tie.y + up * 0.5;
  QPainterPath path(QPointF(tie.x1, tie.y));
  path.cubicTo(tie.x1 + third, deep, tie.x2 - third, deep, tie.x2, tie.y);
  path.cubicTo(tie.x2 - third, flat, tie.x1 + third, flat, tie.x1, tie.y);
  return path;
}

QPainterPath beam_path(const PlacedBeam& beam) {
  QPainterPath path(QPointF(beam.x1, beam.y1 - kBeamHalf));
  path.lineTo(beam.x2, beam.y2 - kBeamHalf);
  path.lineTo(beam.x2, beam.y2 + kBeamHalf);
  path.lineTo(beam.x1, beam.y1 + kBeamHalf);
  path.closeSubpath();
  return path;
}

// Text as an outline, so that it is as sharp as the rest at any scale.
QPainterPath text_path(const PlacedText& text, QFont font) {
  constexpr double kLarge = 40;  // pixels: small sizes are hinted out of shape
  font.setPixelSize(static_cast<int>(kLarge));
  font.setBold(true);
  QPainterPath path;
  path.addText(0, 0, font, QString::fromStdString(text.text));
  const double scale = text.size / kLarge;
  const double middle = path.boundingRect().center().x();
  return QTransform().translate(text.x, text.y).scale(scale, scale).translate(-middle, 0).map(path);
}

}  // namespace

void paint_bars(QPainter& painter, const BarPicture& picture, const QColor& ink,
                const QFont& font) {
  painter.setBrush(Qt::NoBrush);
  for (const PlacedLine& line : picture.lines) {
    painter.setPen(QPen(ink, line.width, Qt::SolidLine, Qt::FlatCap));
    painter.drawLine(QPointF(line.x1, line.y1), QPointF(line.x2, line.y2));
  }
  painter.setPen(Qt::NoPen);
  painter.setBrush(ink);
  for (const PlacedBeam& beam : picture.beams) painter.drawPath(beam_path(beam));
  for (const PlacedTie& tie : picture.ties) painter.drawPath(tie_path(tie));
  for (const PlacedGlyph& glyph : picture.glyphs)
    painter.drawPath(glyph_path(glyph.glyph, glyph.count).translated(glyph.x, glyph.y));
  for (const PlacedText& text : picture.texts) painter.drawPath(text_path(text, font));
}

}  // namespace loftbeat::window
