#include "window/look_back/pass_views.h"

#include <cmath>
#include <limits>
#include <utility>

#include <QEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include "practice/words.h"
#include "report/numbers.h"
#include "report/words.h"
#include "window/desk/words.h"
#include "window/look_back/join_painter.h"
#include "window/look_back/moment.h"
#include "window/look_back/ribbon_painter.h"

namespace loftbeat::window {
namespace {

constexpr double kUsualWidth = 700;  // of a drawing, in its units

void paint_focus(QPainter& painter, const QWidget& widget, const Theme& theme) {
  if (!widget.hasFocus()) return;
  painter.setPen(QPen(theme.ahead, 3));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(widget.rect().adjusted(1, 1, -2, -2));
}

}  // namespace

double drawn_scale(const QWidget& widget) {
  return widget.fontMetrics().height() / (kDrawnType * 1.35);
}

RibbonView::RibbonView(ShownPractice practice, int pass, const report::RibbonScale& scale,
                       const Theme& theme, QWidget* parent)
    : SpokenPicture(parent),
      practice_(std::move(practice)),
      pass_(pass),
      scale_(scale),
      theme_(theme) {
  setFocusPolicy(Qt::StrongFocus);
  const practice::Review& review = practice_->review;
  setAccessibleName(tr("Beat ribbon of %1").arg(words(report::pass_name(review, pass))));
  const timing::PassMeasures& measures = review.timing.passes[static_cast<std::size_t>(pass)];
  QString told = tr("%n beats against the set tempo.", "", static_cast<int>(measures.beats.size()));
  if (measures.end_drift_ms)
    told += QLatin1Char(' ') + tr("At the end %1 (plus is behind).")
                                   .arg(words(report::write_signed_span(*measures.end_drift_ms)));
  setAccessibleDescription(told + QLatin1Char(' ') + tr("Left and right go from beat to beat."));
  QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  policy.setHeightForWidth(true);
  setSizePolicy(policy);
  lay_out();
}

void RibbonView::lay_out() {
  const double scale = drawn_scale(*this);
  report::RibbonFrame frame;
  frame.width = std::max(300.0, width() / scale);
  frame.reach = 70;
  ribbon_ = report::lay_out_ribbon(practice_->review,
                                   practice_->review.timing.passes[static_cast<std::size_t>(pass_)],
                                   scale_, frame);
  setMinimumHeight(static_cast<int>(std::ceil(ribbon_.height * scale)));
}

QSize RibbonView::sizeHint() const {
  const double scale = drawn_scale(*this);
  return {static_cast<int>(kUsualWidth * scale),
          static_cast<int>(std::ceil(ribbon_.height * scale))};
}

int RibbonView::heightForWidth(int) const {
  return static_cast<int>(std::ceil(ribbon_.height * drawn_scale(*this)));
}

void RibbonView::resizeEvent(QResizeEvent* event) {
  SpokenPicture::resizeEvent(event);
  lay_out();
}

void RibbonView::changeEvent(QEvent* event) {
  SpokenPicture::changeEvent(event);
  if (event->type() != QEvent::FontChange) return;
  lay_out();
  updateGeometry();
}

void RibbonView::choose(int beat) {
  if (beat == chosen_) return;
  chosen_ = beat;
  speak(beat < 0 ? QString()
                 : moment_words(practice_->review, moment_of_beat(practice_->review, pass_, beat)));
  update();
}

void RibbonView::choose_by_user(int beat) {
  if (beat < 0) return;
  choose(beat);
  emit beat_chosen(pass_, beat);
}

QPointF RibbonView::place_of(int beat) const {
  for (const report::RibbonRun& run : ribbon_.runs)
    for (const report::RibbonBeat& one : run)
      if (static_cast<int>(one.beat) == beat) return QPointF(one.x, one.y) * drawn_scale(*this);
  return {};
}

// Beats that are not shown (left out, not known) are passed over. Nothing chosen: the first.
int RibbonView::next_beat(int step) const {
  int best = -1;
  for (const report::RibbonRun& run : ribbon_.runs)
    for (const report::RibbonBeat& one : run) {
      const int beat = static_cast<int>(one.beat);
      const bool further = step > 0 ? beat > chosen_ : beat < chosen_;
      if (!further) continue;
      if (best < 0 || (step > 0 ? beat < best : beat > best)) best = beat;
    }
  return best;
}

void RibbonView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.save();
  painter.scale(drawn_scale(*this), drawn_scale(*this));
  paint_ribbon(painter, ribbon_, scale_, theme_, chosen_);
  painter.restore();
  paint_focus(painter, *this, theme_);
}

void RibbonView::mousePressEvent(QMouseEvent* event) {
  const double x = event->position().x() / drawn_scale(*this);
  int nearest = -1;
  double least = std::numeric_limits<double>::max();
  for (const report::RibbonRun& run : ribbon_.runs)
    for (const report::RibbonBeat& one : run) {
      if (std::abs(one.x - x) >= least) continue;
      least = std::abs(one.x - x);
      nearest = static_cast<int>(one.beat);
    }
  choose_by_user(nearest);
}

void RibbonView::keyPressEvent(QKeyEvent* event) {
  switch (event->key()) {
    case Qt::Key_Left: return choose_by_user(next_beat(-1));
    case Qt::Key_Right: return choose_by_user(next_beat(1));
    case Qt::Key_Home: chosen_ = -1; return choose_by_user(next_beat(1));
    case Qt::Key_End:
      chosen_ = std::numeric_limits<int>::max();
      return choose_by_user(next_beat(-1));
    default: SpokenPicture::keyPressEvent(event);
  }
}

JoinView::JoinView(ShownPractice practice, int join, double beats, const Theme& theme,
                   QWidget* parent)
    : SpokenPicture(parent),
      practice_(std::move(practice)),
      join_(join),
      beats_(beats),
      theme_(theme) {
  setFocusPolicy(Qt::StrongFocus);
  setCursor(Qt::PointingHandCursor);
  const practice::Review& review = practice_->review;
  setAccessibleName(tr("Join strip %1").arg(words(practice::join_name(review, join))));
  setAccessibleDescription(moment_words(review, moment_of_join(review, join)) + QLatin1Char(' ') +
                           join_figures(review.timing.joins[static_cast<std::size_t>(join)]) +
                           QLatin1Char(' ') + tr("Enter shows where it is."));
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize JoinView::sizeHint() const {
  const double scale = drawn_scale(*this);
  return {static_cast<int>(kUsualWidth * scale), static_cast<int>(76 * scale)};
}

void JoinView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.save();
  const double scale = drawn_scale(*this);
  painter.scale(scale, scale);
  report::StripFrame frame;
  frame.width = std::max(300.0, width() / scale);
  const practice::Review& review = practice_->review;
  paint_join(painter,
             report::lay_out_join(review, review.timing.joins[static_cast<std::size_t>(join_)],
                                  beats_, frame),
             theme_);
  painter.restore();
  paint_focus(painter, *this, theme_);
}

void JoinView::mousePressEvent(QMouseEvent*) { emit join_chosen(join_); }

void JoinView::keyPressEvent(QKeyEvent* event) {
  const bool press = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter ||
                     event->key() == Qt::Key_Space;
  if (press) return emit join_chosen(join_);
  SpokenPicture::keyPressEvent(event);
}

}  // namespace loftbeat::window
