#include "window/look_back/join_painter.h"

#include <QCoreApplication>
#include <QPainter>
#include <QPolygonF>

#include "report/numbers.h"
#include "window/desk/words.h"
#include "window/look_back/ribbon_painter.h"

namespace loftbeat::window {
namespace {

constexpr double kPlannedTop = 8;
constexpr double kPlayedTop = 30;
constexpr double kTall = 14;

QString in_join(const char* what) { return QCoreApplication::translate("look back", what); }

QPolygonF diamond(double x, double y) {
  return QPolygonF({{x, y - 8}, {x + 6, y}, {x, y + 8}, {x - 6, y}});
}

void left_text(QPainter& painter, const report::JoinRow& row, double y, const QString& what) {
  painter.drawText(QRectF(0, y, row.left - 8, kDrawnType + 6), Qt::AlignRight | Qt::AlignVCenter,
                   what);
}

void paint_ground(QPainter& painter, const report::JoinRow& row, const Theme& theme) {
  if (row.tolerance)
    painter.fillRect(QRectF(row.tolerance->begin, 2, row.tolerance->end - row.tolerance->begin, 52),
                     QBrush(theme.sound, Qt::HorPattern));
  for (std::size_t i = 0; i < row.beat_lines.size(); ++i) {
    QColor faint = theme.rule;
    faint.setAlphaF(0.6F);
    painter.setPen(QPen(faint, 0.8));
    painter.drawLine(QPointF(row.beat_lines[i], 2), QPointF(row.beat_lines[i], 54));
    painter.setPen(theme.soft);
    painter.drawText(QRectF(row.beat_lines[i] - 20, 56, 40, kDrawnType + 6), Qt::AlignHCenter,
                     words(row.beat_names[i]));
  }
  painter.setPen(theme.soft);
  left_text(painter, row, kPlannedTop - 2, in_join("planned"));
  left_text(painter, row, kPlayedTop - 2, in_join("played"));
  left_text(painter, row, 55, in_join("beats"));
}

void paint_planned(QPainter& painter, const report::JoinRow& row, const Theme& theme) {
  const double y = kPlannedTop + kTall / 2;
  double chord_end = row.left;
  painter.setPen(QPen(theme.ink, 1.3));
  painter.setBrush(Qt::NoBrush);
  if (row.planned_hold) {
    chord_end = row.planned_hold->end;
    painter.drawRect(
        QRectF(row.planned_hold->begin, kPlannedTop, chord_end - row.planned_hold->begin, kTall));
  }
  if (!row.planned_entry) {
    painter.setPen(theme.soft);
    painter.drawText(QPointF(row.left + 6, kPlannedTop + 11), in_join("nothing planned"));
    return;
  }
  painter.setPen(QPen(theme.ink, 1.3, Qt::DotLine));
  painter.drawLine(QPointF(chord_end, y), QPointF(*row.planned_entry, y));
  painter.setPen(QPen(theme.ink, 1.6));
  painter.setBrush(theme.paper);
  painter.drawPolygon(diamond(*row.planned_entry, y));
}

void paint_played(QPainter& painter, const report::JoinRow& row, const Theme& theme) {
  const double y = kPlayedTop + kTall / 2;
  double chord_end = row.left;
  if (row.played_hold) {
    chord_end = row.played_hold->end;
    painter.fillRect(
        QRectF(row.played_hold->begin, kPlayedTop, chord_end - row.played_hold->begin, kTall),
        theme.soft);
  }
  if (!row.played_entry) return;
  if (*row.played_entry > chord_end) {
    painter.setPen(QPen(theme.ink, 1.3, Qt::DotLine));
    painter.drawLine(QPointF(chord_end, y), QPointF(*row.played_entry, y));
  }
  if (row.planned_entry) {
    painter.setPen(QPen(theme.behind, 4));
    painter.drawLine(QPointF(*row.planned_entry, kPlayedTop + 22),
                     QPointF(*row.played_entry, kPlayedTop + 22));
  }
  painter.setPen(QPen(theme.ink, 1));
  painter.setBrush(theme.ink);
  painter.drawPolygon(diamond(*row.played_entry, y));
}

}  // namespace

void paint_join(QPainter& painter, const report::JoinRow& row, const Theme& theme) {
  QFont font = painter.font();
  font.setPixelSize(kDrawnType);
  painter.setFont(font);
  paint_ground(painter, row, theme);
  paint_planned(painter, row, theme);
  paint_played(painter, row, theme);
}

QString join_figures(const timing::JoinMeasures& join) {
  const auto figure = [](const Measured<double>& beats) {
    return words(report::write_figure(beats, report::kBeats));
  };
  return in_join("Held %1 beats, lifted %2, in all %3; planned %4.")
      .arg(figure(join.hold_beats), figure(join.lift_beats), figure(join.span_beats),
           figure(join.planned_span_beats));
}

}  // namespace loftbeat::window
