#include "window/notation/bar_view.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include <QEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include "window/notation/bar_painter.h"
#include "window/notation/note_words.h"

namespace loftbeat::window {
namespace {

constexpr double kUnitOfType = 0.62;  // a unit against the height of the type in use
constexpr double kUsualHeight = 23;   // units, so that the room does not jump from bar to bar
constexpr double kReach = 1.4;        // of a click round a head, in units

}  // namespace

BarView::BarView(QWidget* parent) : SpokenPicture(parent) {
  setFocusPolicy(Qt::StrongFocus);
  setAccessibleName(tr("Bar in notation"));
  QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Fixed);
  setSizePolicy(policy);
}

void BarView::show_bars(std::shared_ptr<const music::Score> score, std::size_t first,
                        std::size_t count) {
  score_ = std::move(score);
  first_ = first;
  picture_ = {};
  marks_.clear();
  chosen_ = -1;
  if (score_ && first < score_->bars.size())
    picture_ = lay_out_bars(*score_, first,
                            std::clamp<std::size_t>(count, 1, score_->bars.size() - first));
  tell();
  updateGeometry();
  update();
}

void BarView::set_marks(std::vector<Mark> marks) {
  marks_ = std::move(marks);
  tell();
  update();
}

void BarView::set_inks(const Inks& inks) {
  inks_ = inks;
  update();
}

void BarView::choose(int note) {
  chosen_ = note;
  tell();
  update();
}

void BarView::choose_by_user(int note) {
  if (note < 0) return;
  choose(note);
  emit note_chosen(note);
}

// The name says which bar, the description its notes, the value what is chosen.
void BarView::tell() {
  if (picture_.heads.empty() && (!score_ || score_->bars.empty())) {
    setAccessibleDescription({});
    speak({});
    return;
  }
  setAccessibleName(
      tr("Bar %1 in notation").arg(QString::fromStdString(score_->bars[first_].number)));
  QStringList notes;
  std::set<int> told;
  for (const PlacedHead& head : picture_.heads) {
    if (!told.insert(head.note).second) continue;
    QString words = note_words(*score_, head.note);
    for (const Mark& mark : marks_)
      if (mark.note == head.note) words += QStringLiteral(" (%1)").arg(mark.words);
    notes << words;
  }
  setAccessibleDescription(notes.join(QStringLiteral("; ")));
  speak(chosen_ < 0 ? QString() : note_words(*score_, chosen_));
}

double BarView::unit() const { return kUnitOfType * fontMetrics().height(); }

double BarView::scale() const {
  if (picture_.width <= 0) return unit();
  return std::min({unit(), width() / picture_.width, height() / picture_.height});
}

double BarView::left() const { return std::max(0.0, (width() - picture_.width * scale()) / 2); }

QSize BarView::sizeHint() const {
  const double width = std::max(picture_.width, 20.0);
  const double height = std::max(picture_.height, kUsualHeight);
  return {static_cast<int>(std::ceil(width * unit())),
          static_cast<int>(std::ceil(height * unit()))};
}

QSize BarView::minimumSizeHint() const { return {160, sizeHint().height() * 2 / 3}; }

QPointF BarView::head_of(int note) const {
  QPointF at;
  for (const PlacedHead& head : picture_.heads)
    if (head.note == note) at = QPointF(head.x, head.y) * scale() + QPointF(left(), 0);
  return at;
}

void BarView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const QColor ink = inks_.ink.isValid() ? inks_.ink : palette().color(QPalette::WindowText);
  const QColor mark = inks_.mark.isValid() ? inks_.mark : ink;
  const QColor chosen =
      inks_.chosen.isValid() ? inks_.chosen : palette().color(QPalette::Highlight);
  if (hasFocus()) {
    painter.setPen(QPen(chosen, 3));
    painter.drawRect(rect().adjusted(1, 1, -2, -2));
  }
  painter.translate(left(), 0);
  painter.scale(scale(), scale());
  paint_bars(painter, picture_, ink, font());
  painter.setBrush(Qt::NoBrush);
  std::set<std::pair<int, QString>> written;
  for (const Mark& one : marks_) {
    for (const PlacedHead& head : picture_.heads) {
      if (head.note != one.note) continue;
      painter.setPen(QPen(mark, 0.25));
      painter.drawEllipse(QPointF(head.x, head.y), 1.15, 0.95);
      if (!written.insert({static_cast<int>(head.x), one.words}).second) continue;
      QFont small = font();
      small.setPixelSize(2);
      painter.setFont(small);
      painter.drawText(QRectF(head.x - 8, 0, 16, 2.4), Qt::AlignCenter, one.words);
    }
  }
  painter.setPen(QPen(chosen, 0.3));
  for (const PlacedHead& head : picture_.heads)
    if (head.note == chosen_) painter.drawRect(QRectF(head.x - 1.2, head.y - 0.9, 2.4, 1.8));
}

void BarView::mousePressEvent(QMouseEvent* event) {
  setFocus(Qt::MouseFocusReason);
  const QPointF at = (event->position() - QPointF(left(), 0)) / scale();
  const PlacedHead* nearest = nullptr;
  double least = kReach;
  for (const PlacedHead& head : picture_.heads) {
    const double far = std::hypot(head.x - at.x(), head.y - at.y());
    if (far >= least) continue;
    least = far;
    nearest = &head;
  }
  if (nearest != nullptr) choose_by_user(nearest->note);
}

// The note at the next onset, on the same staff and as near in height as can be.
int BarView::beside(int step) const {
  const auto& heads = picture_.heads;
  const auto here = std::find_if(heads.begin(), heads.end(),
                                 [this](const PlacedHead& head) { return head.note == chosen_; });
  if (here == heads.end()) return heads.empty() ? -1 : heads.front().note;
  const PlacedHead* best = nullptr;
  for (const PlacedHead& head : heads) {
    const bool further = step > 0 ? head.at > here->at : head.at < here->at;
    if (!further || head.staff != here->staff || head.note == chosen_) continue;
    const auto worse = [&](const PlacedHead* other) {
      const Tick mine = std::abs(head.at - here->at);
      const Tick its = std::abs(other->at - here->at);
      return mine < its ||
             (mine == its && std::abs(head.y - here->y) < std::abs(other->y - here->y));
    };
    if (best == nullptr || worse(best)) best = &head;
  }
  return best == nullptr ? -1 : best->note;
}

// The next higher or lower note of the same onset.
int BarView::above(int step) const {
  const auto& heads = picture_.heads;
  const auto here = std::find_if(heads.begin(), heads.end(),
                                 [this](const PlacedHead& head) { return head.note == chosen_; });
  if (here == heads.end()) return heads.empty() ? -1 : heads.front().note;
  const PlacedHead* best = nullptr;
  for (const PlacedHead& head : heads) {
    if (head.at != here->at || head.note == chosen_) continue;
    const bool higher = std::pair(-head.y, head.note) > std::pair(-here->y, here->note);
    if (higher != (step > 0)) continue;
    if (best == nullptr || std::abs(head.y - here->y) < std::abs(best->y - here->y)) best = &head;
  }
  return best == nullptr ? -1 : best->note;
}

void BarView::keyPressEvent(QKeyEvent* event) {
  switch (event->key()) {
    case Qt::Key_Left: return choose_by_user(beside(-1));
    case Qt::Key_Right: return choose_by_user(beside(1));
    case Qt::Key_Up: return choose_by_user(above(1));
    case Qt::Key_Down: return choose_by_user(above(-1));
    default: SpokenPicture::keyPressEvent(event);
  }
}

void BarView::changeEvent(QEvent* event) {
  SpokenPicture::changeEvent(event);
  if (event->type() == QEvent::FontChange) updateGeometry();
}

}  // namespace loftbeat::window
