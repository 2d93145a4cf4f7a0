#include "window/look_back/ribbon_painter.h"

#include <algorithm>
#include <cmath>

#include <QCoreApplication>
#include <QPainter>
#include <QPolygonF>

#include "report/numbers.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

constexpr double kFringe = 16;

QString letter_of(report::RibbonMark::Kind kind) {
  using Kind = report::RibbonMark::Kind;
  switch (kind) {
    case Kind::hesitation: return QStringLiteral("h");
    case Kind::correction: return QStringLiteral("c");
    case Kind::restart: return QStringLiteral("r");
    case Kind::breath: break;
  }
  return QStringLiteral("’");
}

enum class Half { ahead, behind };

// The part of a run's area on one side of the line of the set tempo.
QPolygonF half_of(const report::RibbonRun& run, double zero, Half half) {
  QPolygonF area;
  area << QPointF(run.front().x, zero);
  for (std::size_t i = 0; i < run.size(); ++i) {
    if (i > 0 && (run[i].y - zero) * (run[i - 1].y - zero) < 0) {
      const double share = (zero - run[i - 1].y) / (run[i].y - run[i - 1].y);
      area << QPointF(run[i - 1].x + share * (run[i].x - run[i - 1].x), zero);
    }
    area << QPointF(run[i].x,
                    half == Half::ahead ? std::min(run[i].y, zero) : std::max(run[i].y, zero));
  }
  area << QPointF(run.back().x, zero);
  return area;
}

class RibbonBrush {
 public:
  RibbonBrush(QPainter& painter, const report::Ribbon& ribbon, const Theme& theme)
      : painter_(painter), ribbon_(ribbon), theme_(theme) {
    QFont font = painter.font();
    font.setPixelSize(kDrawnType);
    painter_.setFont(font);
  }

  void ground() {
    const double bottom = ribbon_.fringe + kFringe;
    for (std::size_t i = 0; i < ribbon_.phrases.size(); ++i) {
      const double begin = ribbon_.phrases[i].x;
      const double end = i + 1 < ribbon_.phrases.size() ? ribbon_.phrases[i + 1].x : ribbon_.right;
      if (i % 2 == 0) painter_.fillRect(QRectF(begin, 0, end - begin, bottom), theme_.card);
      line(begin, 0, begin, bottom, theme_.rule, 1);
      text(begin + 4, 13,
           QCoreApplication::translate("look back", "line %1").arg(words(ribbon_.phrases[i].text)),
           theme_.soft);
    }
    QColor faint = theme_.rule;
    faint.setAlphaF(0.45F);
    for (const report::RibbonLabel& bar : ribbon_.bars) {
      line(bar.x, ribbon_.top, bar.x, bottom, faint, 0.7);
      if (!bar.text.empty()) text(bar.x + 2, bottom + 14, words(bar.text), theme_.soft);
    }
    for (const report::RibbonStep& step : ribbon_.steps)
      line(ribbon_.left, step.y, ribbon_.right, step.y, faint, 0.7);
  }

  void areas() {
    painter_.setPen(Qt::NoPen);
    for (const report::RibbonRun& run : ribbon_.runs) {
      if (run.empty()) continue;
      painter_.setBrush(QBrush(theme_.behind, Qt::BDiagPattern));
      painter_.drawPolygon(half_of(run, ribbon_.zero, Half::behind));
      painter_.setBrush(QBrush(theme_.ahead, Qt::Dense6Pattern));
      painter_.drawPolygon(half_of(run, ribbon_.zero, Half::ahead));
    }
    line(ribbon_.left, ribbon_.zero, ribbon_.right, ribbon_.zero, theme_.ink, 1.6);
  }

  void beats(int chosen) {
    for (const report::RibbonRun& run : ribbon_.runs) {
      for (std::size_t i = 1; i < run.size(); ++i)
        line(run[i - 1].x, run[i - 1].y, run[i].x, run[i].y, theme_.ink, 1.4);
      for (const report::RibbonBeat& beat : run) {
        const bool struck = beat.kind == report::RibbonBeat::Kind::struck;
        if (struck) line(beat.x, ribbon_.fringe, beat.x, beat.fringe_y, theme_.ink, 2);
        dot(beat, struck, static_cast<int>(beat.beat) == chosen);
      }
      if (!run.empty())
        line(run.front().x, ribbon_.fringe, run.back().x, ribbon_.fringe, theme_.rule, 1);
    }
  }

  void marks() {
    for (const report::RibbonMark& mark : ribbon_.marked) {
      const bool breath = mark.kind == report::RibbonMark::Kind::breath;
      text(breath ? mark.x - 9 : mark.x + 2, breath ? ribbon_.marks + 8 : ribbon_.marks,
           letter_of(mark.kind), theme_.ink);
    }
  }

  void margin(const report::RibbonScale& scale) {
    const auto say = [](const char* what) {
      return QCoreApplication::translate("look back", what);
    };
    margin_text(ribbon_.zero - 5, say("ahead"));
    margin_text(ribbon_.zero + 13, say("behind"));
    double free_below = ribbon_.zero + 24;
    for (const report::RibbonStep& step : ribbon_.steps) {
      const bool below = step.drift_ms > 0;
      if (below ? step.y - 4 < free_below : step.y > ribbon_.zero - 18) continue;
      margin_text(step.y + 4, words(report::write_signed_span(std::abs(step.drift_ms))).mid(1));
      if (below) free_below = step.y + 12;
    }
    margin_text(ribbon_.fringe, say("pulse"));
    margin_text(ribbon_.fringe + 13,
                QStringLiteral("±") + words(report::write_number(scale.pulse_ms, report::kMs)));
  }

 private:
  void line(double x1, double y1, double x2, double y2, const QColor& color, double width) {
    painter_.setPen(QPen(color, width));
    painter_.drawLine(QPointF(x1, y1), QPointF(x2, y2));
  }
  void text(double x, double y, const QString& what, const QColor& color) {
    painter_.setPen(color);
    painter_.drawText(QPointF(x, y), what);
  }
  void margin_text(double y, const QString& what) {
    painter_.setPen(theme_.soft);
    painter_.drawText(QRectF(0, y - kDrawnType, ribbon_.left - 6, kDrawnType + 6),
                      Qt::AlignRight | Qt::AlignTop, what);
  }
  void dot(const report::RibbonBeat& beat, bool struck, bool chosen) {
    painter_.setPen(QPen(theme_.ink, 1.2));
    painter_.setBrush(struck ? theme_.ink : theme_.paper);
    painter_.drawEllipse(QPointF(beat.x, beat.y), 2.6, 2.6);
    if (!chosen) return;
    painter_.setBrush(Qt::NoBrush);
    painter_.setPen(QPen(theme_.ahead, 2.4));
    painter_.drawRect(QRectF(beat.x - 7, beat.y - 7, 14, 14));
    painter_.drawLine(QPointF(beat.x, ribbon_.top), QPointF(beat.x, beat.y - 7));
  }

  QPainter& painter_;
  const report::Ribbon& ribbon_;
  const Theme& theme_;
};

}  // namespace

void paint_ribbon(QPainter& painter, const report::Ribbon& ribbon, const report::RibbonScale& scale,
                  const Theme& theme, int chosen) {
  RibbonBrush brush(painter, ribbon, theme);
  brush.ground();
  brush.areas();
  brush.beats(chosen);
  brush.marks();
  brush.margin(scale);
}

}  // namespace loftbeat::window
