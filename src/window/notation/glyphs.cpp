#include "window/notation/glyphs.h"

#include <QTransform>

namespace loftbeat::window {
namespace {

constexpr double kHeadMiddle = kHeadWidth / 2;

// The stroker's curves are as exact as suits pixels: it is given large ones.
QPainterPath stroked(const QPainterPath& line, double width) {
  constexpr double kFine = 200;
  QPainterPathStroker stroker;
  stroker.setWidth(width * kFine);
  stroker.setCapStyle(Qt::RoundCap);
  stroker.setJoinStyle(Qt::RoundJoin);
  const QPainterPath stroke = stroker.createStroke(QTransform::fromScale(kFine, kFine).map(line));
  return QTransform::fromScale(1 / kFine, 1 / kFine).map(stroke);
}

// What overlaps is filled as one (WindingFill, see glyph_path).
QPainterPath both(QPainterPath a, const QPainterPath& b) {
  a.addPath(b);
  return a;
}

QPainterPath without(QPainterPath a, const QPainterPath& hole) {
  a.addPath(hole.toReversed());
  return a;
}

QPainterPath segment(QPointF from, QPointF to, double width) {
  QPainterPath line(from);
  line.lineTo(to);
  return stroked(line, width);
}

QPainterPath circle(QPointF middle, double radius) {
  QPainterPath path;
  path.addEllipse(middle, radius, radius);
  return path;
}

QPainterPath oval(double across, double up, double turned) {
  QPainterPath path;
  path.addEllipse(QPointF(0, 0), across, up);
  return QTransform().translate(kHeadMiddle, 0).rotate(turned).map(path);
}

QPainterPath treble_clef() {
  QPainterPath curl(QPointF(0.98, 0.35));
  curl.cubicTo(0.72, -0.25, 1.0, -0.85, 1.5, -0.82);
  curl.cubicTo(2.2, -0.75, 2.38, 0.05, 2.15, 0.5);
  curl.cubicTo(1.95, 0.92, 1.6, 1.02, 1.3, 1.0);
  QPainterPath belly(QPointF(1.3, 1.0));
  belly.cubicTo(0.5, 0.95, 0.1, 0.35, 0.2, -0.35);
  belly.cubicTo(0.32, -1.3, 1.35, -1.9, 1.78, -2.85);
  QPainterPath neck(QPointF(1.78, -2.85));
  neck.cubicTo(2.0, -3.4, 1.9, -4.1, 1.62, -4.4);
  neck.cubicTo(1.25, -4.0, 1.08, -3.3, 1.2, -2.7);
  neck.lineTo(1.86, 1.75);
  neck.cubicTo(1.95, 2.3, 1.55, 2.62, 1.15, 2.55);
  QPainterPath clef = stroked(curl, 0.26);
  clef = both(both(clef, stroked(belly, 0.34)), stroked(neck, 0.2));
  return both(clef, circle({1.0, 2.2}, 0.36));
}

QPainterPath bass_clef() {
  QPainterPath head(QPointF(0.22, -0.1));
  head.cubicTo(0.2, -0.7, 0.7, -1.05, 1.2, -1.0);
  QPainterPath back(QPointF(1.2, -1.0));
  back.cubicTo(1.85, -0.95, 2.1, -0.4, 2.05, 0.15);
  QPainterPath tail(QPointF(2.05, 0.15));
  tail.cubicTo(1.95, 1.15, 1.1, 2.0, 0.15, 2.5);
  QPainterPath clef = both(both(stroked(head, 0.22), stroked(back, 0.36)), stroked(tail, 0.24));
  clef = both(clef, circle({0.5, 0}, 0.38));
  return both(both(clef, circle({2.7, -0.5}, 0.2)), circle({2.7, 0.5}, 0.2));
}

QPainterPath flat() {
  QPainterPath bowl(QPointF(-0.3, -0.1));
  bowl.cubicTo(0.1, -0.6, 0.55, -0.35, 0.4, 0.05);
  bowl.cubicTo(0.3, 0.35, -0.05, 0.45, -0.3, 0.7);
  return both(segment({-0.3, -1.75}, {-0.3, 0.7}, 0.14), stroked(bowl, 0.2));
}

QPainterPath sharp() {
  QPainterPath path = segment({-0.2, -1.25}, {-0.2, 1.4}, 0.13);
  path = both(path, segment({0.2, -1.4}, {0.2, 1.25}, 0.13));
  path = both(path, segment({-0.42, -0.35}, {0.42, -0.6}, 0.3));
  return both(path, segment({-0.42, 0.6}, {0.42, 0.35}, 0.3));
}

QPainterPath natural() {
  QPainterPath path = segment({-0.28, -1.4}, {-0.28, 0.65}, 0.14);
  path = both(path, segment({0.28, -0.65}, {0.28, 1.4}, 0.14));
  path = both(path, segment({-0.28, -0.38}, {0.28, -0.58}, 0.28));
  return both(path, segment({-0.28, 0.58}, {0.28, 0.38}, 0.28));
}

QPainterPath double_sharp() {
  return both(segment({-0.4, -0.4}, {0.4, 0.4}, 0.26), segment({-0.4, 0.4}, {0.4, -0.4}, 0.26));
}

QPainterPath head(Glyph glyph) {
  const bool open = glyph == Glyph::whole_head || glyph == Glyph::breve_head;
  if (glyph == Glyph::black_head) return oval(0.64, 0.45, -20);
  if (glyph == Glyph::half_head) return without(oval(0.64, 0.46, -20), oval(0.53, 0.22, -30));
  QPainterPath path = without(oval(0.84, 0.5, 0), oval(0.42, 0.3, 60));
  if (open && glyph == Glyph::breve_head) {
    for (const double x : {-0.45, -0.25, 1.43, 1.63})
      path = both(path, segment({x, -0.6}, {x, 0.6}, 0.1));
  }
  return path;
}

QPainterPath quarter_rest() {
  QPainterPath line(QPointF(0.35, -1.45));
  line.lineTo(0.9, -0.7);
  line.cubicTo(0.35, -0.2, 0.5, 0.0, 0.98, 0.7);
  line.cubicTo(0.35, 0.45, 0.15, 0.95, 0.65, 1.45);
  return stroked(line, 0.26);
}

QPainterPath short_rest(int hooks) {
  QPainterPath path = segment({1.1, -0.6}, {0.6, static_cast<double>(hooks)}, 0.14);
  for (int hook = 0; hook < hooks; ++hook) {
    const double y = hook - 0.5;
    const double x = -0.21 * hook;
    QPainterPath arm(QPointF(0.3 + x, y + 0.15));
    arm.cubicTo(0.55 + x, y + 0.3, 0.85 + x, y + 0.2, 1.06 + x, y - 0.02);
    path = both(both(path, stroked(arm, 0.15)), circle({0.3 + x, y}, 0.26));
  }
  return path;
}

QPainterPath up_flag(int count) {
  QPainterPath path;
  for (int flag = 0; flag < count; ++flag) {
    const double y = 0.8 * flag;
    QPainterPath one(QPointF(0, y));
    one.cubicTo(0.1, y + 0.8, 1.2, y + 1.1, 0.8, y + 2.4);
    one.cubicTo(0.95, y + 1.5, 0.4, y + 1.15, 0, y + 0.95);
    one.closeSubpath();
    path = both(path, one);
  }
  return path;
}

QPainterPath fermata() {
  QPainterPath arc;
  arc.moveTo(-1.3, 0);
  arc.cubicTo(-1.2, -1.95, 1.2, -1.95, 1.3, 0);
  arc.cubicTo(0.95, -1.35, -0.95, -1.35, -1.3, 0);
  return both(arc, circle({0, -0.3}, 0.27));
}

QPainterPath block(double top) {
  QPainterPath path;
  path.addRect(0, top, 1.2, 0.5);
  return path;
}

QPainterPath outline(Glyph glyph, int count) {
  switch (glyph) {
    case Glyph::treble_clef: return treble_clef();
    case Glyph::bass_clef: return bass_clef();
    case Glyph::double_flat: return both(flat().translated(-0.4, 0), flat().translated(0.35, 0));
    case Glyph::flat: return flat();
    case Glyph::natural: return natural();
    case Glyph::sharp: return sharp();
    case Glyph::double_sharp: return double_sharp();
    case Glyph::breve_head:
    case Glyph::whole_head:
    case Glyph::half_head:
    case Glyph::black_head: return head(glyph);
    case Glyph::whole_rest: return block(-1);
    case Glyph::half_rest: return block(-0.5);
    case Glyph::quarter_rest: return quarter_rest();
    case Glyph::short_rest: return short_rest(count);
    case Glyph::up_flag: return up_flag(count);
    case Glyph::down_flag: return QTransform::fromScale(1, -1).map(up_flag(count));
    case Glyph::dot: return circle({0, 0}, 0.22);
    case Glyph::fermata: break;
  }
  return fermata();
}

}  // namespace

QPainterPath glyph_path(Glyph glyph, int count) {
  QPainterPath path = outline(glyph, count);
  path.setFillRule(Qt::WindingFill);
  return path;
}

}  // namespace loftbeat::window
