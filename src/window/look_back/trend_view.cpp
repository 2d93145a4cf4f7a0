#include "window/look_back/trend_view.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <QDate>
#include <QKeyEvent>
#include <QLocale>
#include <QMouseEvent>
#include <QPainter>

#include "window/desk/words.h"
#include "window/look_back/pass_views.h"
#include "window/look_back/practice_list.h"
#include "window/look_back/ribbon_painter.h"

namespace loftbeat::window {
namespace {

constexpr double kTrendHeight = 150;

}  // namespace

TrendView::TrendView(std::shared_ptr<const practice::TuneHistory> history, const Figure& figure,
                     const Theme& theme, QWidget* parent)
    : SpokenPicture(parent), history_(std::move(history)), figure_(figure), theme_(theme) {
  setFocusPolicy(Qt::StrongFocus);
  setAccessibleName(figure_.name);
  QStringList all;
  for (const TrendPoint& point : trend().points) all << point_words(point.practice);
  setAccessibleDescription(all.join(QStringLiteral("; ")));
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize TrendView::sizeHint() const {
  const double scale = drawn_scale(*this);
  return {static_cast<int>(600 * scale), static_cast<int>(kTrendHeight * scale)};
}

Trend TrendView::trend() const {
  TrendFrame frame;
  frame.width = std::max(260.0, width() / drawn_scale(*this));
  frame.height = kTrendHeight;
  return lay_out_trend(*history_, figure_.value, figure_.tolerated, frame);
}

QString TrendView::point_words(std::size_t practice) const {
  const practice::PracticeFigures& one = history_->practices[practice];
  return QStringLiteral("%1: %2").arg(
      when_words(one.when), words(report::write_figure(one.*(figure_.value), figure_.style)));
}

void TrendView::choose(int point) {
  const Trend here = trend();
  if (point < 0 || point >= static_cast<int>(here.points.size())) return;
  chosen_ = point;
  speak(point_words(here.points[static_cast<std::size_t>(point)].practice));
  update();
}

void TrendView::open() {
  const Trend here = trend();
  if (chosen_ < 0 || chosen_ >= static_cast<int>(here.points.size())) return;
  const std::size_t practice = here.points[static_cast<std::size_t>(chosen_)].practice;
  emit practice_opened(words(history_->practices[practice].folder));
}

void TrendView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const double scale = drawn_scale(*this);
  painter.save();
  painter.scale(scale, scale);
  QFont font = painter.font();
  font.setPixelSize(kDrawnType);
  painter.setFont(font);
  const Trend here = trend();
  painter.fillRect(
      QRectF(here.left, here.tolerated, here.right - here.left, here.zero - here.tolerated),
      QBrush(theme_.sound, Qt::HorPattern));
  painter.setPen(QPen(theme_.rule, 1));
  painter.drawLine(QPointF(here.left, here.zero), QPointF(here.right, here.zero));
  painter.setPen(theme_.soft);
  const auto at_left = [&](double y, const QString& text) {
    painter.drawText(QRectF(0, y - 9, here.left - 8, 18), Qt::AlignRight | Qt::AlignVCenter, text);
  };
  at_left(here.tolerated, words(report::write_number(figure_.tolerated, figure_.style)));
  at_left(here.zero, QStringLiteral("0"));
  for (const TrendDate& date : here.dates)
    painter.drawText(QRectF(date.x - 45, here.zero + 4, 90, 18), Qt::AlignHCenter,
                     QLocale().toString(QDate::fromString(words(date.day), Qt::ISODate),
                                        QStringLiteral("d MMM")));
  painter.setPen(QPen(theme_.ink, 1.6));
  for (std::size_t i = 1; i < here.points.size(); ++i)
    painter.drawLine(QPointF(here.points[i - 1].x, here.points[i - 1].y),
                     QPointF(here.points[i].x, here.points[i].y));
  for (std::size_t i = 0; i < here.points.size(); ++i) {
    const QPointF at(here.points[i].x, here.points[i].y);
    painter.setPen(QPen(theme_.ink, 1));
    painter.setBrush(theme_.ink);
    painter.drawEllipse(at, 4, 4);
    if (static_cast<int>(i) != chosen_) continue;
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(theme_.ahead, 2.4));
    painter.drawRect(QRectF(at.x() - 8, at.y() - 8, 16, 16));
    painter.setPen(theme_.ink);
    const double x = std::clamp(at.x() - 130, here.left, std::max(here.left, here.right - 260));
    painter.drawText(QRectF(x, 0, 260, 16), Qt::AlignHCenter, point_words(here.points[i].practice));
  }
  painter.restore();
  if (!hasFocus()) return;
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(theme_.ahead, 3));
  painter.drawRect(rect().adjusted(1, 1, -2, -2));
}

void TrendView::mousePressEvent(QMouseEvent* event) {
  const Trend here = trend();
  const double x = event->position().x() / drawn_scale(*this);
  int nearest = -1;
  for (std::size_t i = 0; i < here.points.size(); ++i)
    if (nearest < 0 || std::abs(here.points[i].x - x) <
                           std::abs(here.points[static_cast<std::size_t>(nearest)].x - x))
      nearest = static_cast<int>(i);
  if (nearest == chosen_) return open();
  choose(nearest);
}

void TrendView::keyPressEvent(QKeyEvent* event) {
  switch (event->key()) {
    case Qt::Key_Left: return choose(std::max(0, chosen_ - 1));
    case Qt::Key_Right: return choose(chosen_ + 1);
    case Qt::Key_Return:
    case Qt::Key_Enter: return open();
    default: SpokenPicture::keyPressEvent(event);
  }
}

}  // namespace loftbeat::window
