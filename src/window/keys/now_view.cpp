#include "window/keys/now_view.h"

#include <algorithm>
#include <cmath>

#include <QPainter>

#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

using State = PracticeSight::State;

// Of the view's height, so that it can be read from the same distance in any window.
constexpr double kHeadShare = 0.26;
constexpr double kBeatsShare = 0.2;
constexpr double kJoinShare = 0.32;
constexpr double kVerdictShare = 0.14;  // the rest is the drift's
constexpr int kWrapped = static_cast<int>(Qt::AlignLeft) | static_cast<int>(Qt::TextWordWrap);
constexpr double kWorstDriftMs = 250;  // at the ribbon's ends

QString capital(const QString& text) {
  return text.isEmpty() ? text : text.left(1).toUpper() + text.mid(1);
}

// The largest type up to `pixels` in which the text fits the area.
QFont fitted(const QFont& base, const QString& text, const QRectF& area, double pixels) {
  QFont font = base;
  double size = std::max(9.0, pixels);
  for (int step = 0; step < 12; ++step) {
    font.setPixelSize(static_cast<int>(size));
    const QRectF needed = QFontMetricsF(font).boundingRect(area, kWrapped, text);
    if (needed.width() <= area.width() && needed.height() <= area.height()) break;
    size = std::max(9.0, size * 0.86);
  }
  return font;
}

void write(QPainter& painter, const QRectF& area, const QString& text, double pixels,
           const QColor& color, Qt::Alignment align = Qt::AlignLeft | Qt::AlignVCenter) {
  painter.setFont(fitted(painter.font(), text, area, pixels));
  painter.setPen(color);
  painter.drawText(area, static_cast<int>(align) | static_cast<int>(Qt::TextWordWrap), text);
}

bool same_words(const PracticeSight& a, const PracticeSight& b) {
  const app::PlaceWords& p = a.place;
  const app::PlaceWords& q = b.place;
  return a.state == b.state && a.counting == b.counting && a.verdict == b.verdict &&
         a.trouble == b.trouble && p.pass == q.pass && p.in_tune == q.in_tune && p.line == q.line &&
         p.bar == q.bar && p.beat == q.beat && p.hold == q.hold && p.step == q.step &&
         p.look == q.look && p.at_join == q.at_join;
}

}  // namespace

QString head_words(const PracticeSight& sight) {
  switch (sight.state) {
    case State::closed: return NowView::tr("Not listening");
    case State::opening: return NowView::tr("Opening …");
    case State::waiting: return NowView::tr("Play when you like");
    case State::counting: return words(sight.counting);
    case State::reviewing: return NowView::tr("Looking at what you played …");
    case State::playing: break;
  }
  if (!sight.place.in_tune) return NowView::tr("Not the tune");
  return capital(words(sight.place.pass));
}

QString join_ahead_words(const PracticeSight& sight) {
  const app::PlaceWords& place = sight.place;
  if (place.step.empty()) return {};
  if (place.at_join) {
    const QString step = capital(words(place.step));
    return place.hold.empty() ? step : step + QLatin1Char('\n') + capital(words(place.hold));
  }
  if (!place.look.empty()) return capital(words(place.look));
  return NowView::tr("At the join: %1").arg(words(place.step));
}

NowView::NowView(QWidget* parent) : QWidget(parent), theme_(theme_of(Shade::light)) {
  setAccessibleName(tr("Where you are"));
  setAttribute(Qt::WA_OpaquePaintEvent);
}

void NowView::set_theme(const Theme& theme) {
  theme_ = theme;
  update();
}

void NowView::set_shows_drift(app::ListenOrder::Shown shown) {
  shown_ = shown;
  update();
}

void NowView::set_sight(const PracticeSight& sight) {
  const bool drift = shown_ == app::ListenOrder::Shown::place_and_drift &&
                     sight.place.behind_ms != sight_.place.behind_ms;
  const bool changed = !same_words(sight, sight_);
  const bool elsewhere = sight.place.pass != sight_.place.pass ||
                         sight.place.line != sight_.place.line || sight.state != sight_.state;
  sight_ = sight;
  if (elsewhere) tell_reader();
  if (changed || drift) update();
}

// A screen reader hears of a new line or verse, not of every beat.
void NowView::tell_reader() {
  QString text = head_words(sight_);
  if (sight_.place.line > 0)
    text +=
        QStringLiteral(". ") + tr("Line %1 of %2").arg(sight_.place.line).arg(sight_.place.lines);
  const QString ahead = join_ahead_words(sight_);
  if (!ahead.isEmpty()) text += QStringLiteral(". ") + ahead;
  setAccessibleDescription(text);
}

void NowView::draw_place(QPainter& painter, const QRectF& area) const {
  const app::PlaceWords& place = sight_.place;
  const bool plays = sight_.state == State::playing && place.in_tune;
  const QRectF left(area.left(), area.top(), area.width() * (plays ? 0.55 : 1), area.height());
  write(painter, left, head_words(sight_), area.height() * 0.72, theme_.ink);
  if (!plays) return;
  const QRectF right(left.right(), area.top(), area.right() - left.right(), area.height());
  QString where = place.line > 0 ? tr("line %1 of %2").arg(place.line).arg(place.lines) : QString();
  if (!place.bar.empty())
    where +=
        (where.isEmpty() ? QString() : QStringLiteral("\n")) + tr("bar %1").arg(words(place.bar));
  write(painter, right, where, area.height() * 0.34, theme_.ink, Qt::AlignRight | Qt::AlignVCenter);
}

// The bar's beats as numbers in a row; the one that sounds stands in a full field.
void NowView::draw_beats(QPainter& painter, const QRectF& area) const {
  const int beats = sight_.place.beats;
  if (sight_.state != State::playing || beats <= 0) return;
  const double side = std::min(area.height() * 0.9, area.width() / (1.25 * beats));
  for (int beat = 1; beat <= beats; ++beat) {
    const QRectF field(area.left() + (beat - 1) * side * 1.25, area.center().y() - side / 2, side,
                       side);
    const bool now = beat == sight_.place.beat;
    painter.setPen(QPen(now ? theme_.ink : theme_.rule, now ? 3 : 1.5));
    painter.setBrush(now ? QBrush(theme_.ink) : QBrush(Qt::NoBrush));
    painter.drawRect(field.adjusted(1.5, 1.5, -1.5, -1.5));
    write(painter, field, QString::number(beat), side * 0.6, now ? theme_.paper : theme_.soft,
          Qt::AlignCenter);
  }
}

void NowView::draw_join(QPainter& painter, const QRectF& area) const {
  const QString ahead = join_ahead_words(sight_);
  if (ahead.isEmpty()) return;
  // Thicker when it is time to look or to act.
  const bool soon = sight_.place.at_join || !sight_.place.look.empty();
  painter.setPen(QPen(soon ? theme_.ink : theme_.rule, soon ? 5 : 1.5));
  painter.setBrush(theme_.card);
  const QRectF frame = area.adjusted(3, 3, -3, -3);
  painter.drawRect(frame);
  const double inset = std::max(8.0, area.height() * 0.08);
  write(painter, frame.adjusted(inset, inset / 2, -inset, -inset / 2), ahead,
        area.height() * (soon ? 0.3 : 0.2), theme_.ink);
}

void NowView::draw_verdict(QPainter& painter, const QRectF& area) const {
  if (!sight_.trouble.empty()) {
    write(painter, area, words(sight_.trouble), area.height() * 0.4, theme_.behind);
  } else if (!sight_.verdict.empty()) {
    write(painter, area, tr("Last join %1").arg(words(sight_.verdict)), area.height() * 0.42,
          theme_.ink);
  }
}

// A line with its middle marked; the field shows where the player is against the set tempo.
void NowView::draw_drift(QPainter& painter, const QRectF& area) const {
  if (shown_ != app::ListenOrder::Shown::place_and_drift || !sight_.place.behind_ms) return;
  const double behind = *sight_.place.behind_ms;
  const QRectF text(area.right() - area.width() * 0.3, area.top(), area.width() * 0.3,
                    area.height());
  const QRectF line(area.left(), area.top(), area.width() * 0.68, area.height());
  const double y = line.center().y();
  painter.setPen(QPen(theme_.rule, 1.5));
  painter.drawLine(QPointF(line.left(), y), QPointF(line.right(), y));
  painter.drawLine(QPointF(line.center().x(), line.top()),
                   QPointF(line.center().x(), line.bottom()));
  const double share = std::clamp(behind / kWorstDriftMs, -1.0, 1.0);
  const double x = line.center().x() + share * line.width() / 2;
  const double half = line.height() * 0.28;
  painter.setPen(Qt::NoPen);
  painter.setBrush(behind > 0 ? theme_.behind : theme_.ahead);
  painter.drawRect(QRectF(x - half / 2, y - half, half, 2 * half));
  write(painter, text, words(app::behind_words(behind)), area.height() * 0.6, theme_.ink,
        Qt::AlignRight | Qt::AlignVCenter);
}

void NowView::paintEvent(QPaintEvent* /*event*/) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), theme_.paper);
  QRectF rest = QRectF(rect()).adjusted(12, 6, -12, -6);
  const double height = rest.height();
  const auto take = [&rest, height](double share) {
    const QRectF area(rest.left(), rest.top(), rest.width(), height * share);
    rest.setTop(area.bottom());
    return area;
  };
  draw_place(painter, take(kHeadShare));
  draw_beats(painter, take(kBeatsShare));
  draw_join(painter, take(kJoinShare));
  draw_verdict(painter, take(kVerdictShare));
  draw_drift(painter, rest);
}

}  // namespace loftbeat::window
