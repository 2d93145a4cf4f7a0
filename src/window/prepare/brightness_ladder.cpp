#include "window/prepare/brightness_ladder.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include "report/plan_text.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

// Registrations of an organ lie within these (sharpness of a flute alone is near 0.6, of full organ
// with mixtures near 2: as reckoned for the demo organ); what lies outside stands at the edge.
constexpr double kLeastAcum = 0.4;
constexpr double kMostAcum = 2.4;
constexpr double kLabelShare = 0.24;
constexpr double kMarginPx = 10;

QString signed_figure(double value, int digits) {
  return (value < 0 ? QStringLiteral("−") : QStringLiteral("+")) +
         QString::number(std::abs(value), 'f', digits);
}

QString label_of(const Rung& rung) {
  const bool number = !rung.label.empty() && rung.label.front() >= '0' && rung.label.front() <= '9';
  return number ? BrightnessLadder::tr("verse %1").arg(words(rung.label)) : words(rung.label);
}

QString figures_of(const Rung& rung) {
  if (!rung.silent_because.empty()) return words(rung.silent_because);
  return BrightnessLadder::tr("%1 sone, lead %2")
      .arg(rung.full_sone, 0, 'f', 0)
      .arg(rung.lead_sone, 0, 'f', 1);
}

}  // namespace

std::vector<Rung> rungs_of(const advise::PlanMeasures& measures) {
  std::vector<Rung> rungs;
  for (const advise::PassMeasure& pass : measures.passes) {
    Rung rung;
    rung.label = pass.label;
    rung.silent_because = pass.silent_because;
    rung.empty_sone = pass.empty.sone;
    rung.full_sone = pass.full.sone;
    rung.empty_acum = pass.empty.sharpness_acum;
    rung.full_acum = pass.full.sharpness_acum;
    rung.lead_sone = pass.full.over.lead_sone;
    rungs.push_back(std::move(rung));
  }
  return rungs;
}

std::optional<RungPreview> preview_of(const advise::PlanMeasures& measures, std::size_t pass,
                                      std::size_t stop) {
  if (pass >= measures.passes.size()) return std::nullopt;
  const advise::PassMeasure& measured = measures.passes[pass];
  for (const advise::StopEffect& effect : measured.stop_effects) {
    if (effect.stop != stop) continue;
    RungPreview preview;
    preview.rung = pass;
    const QString name =
        words(measures.organ.stops[stop].name + " " + measures.organ.stops[stop].pitch);
    const bool draws = effect.move == advise::StopEffect::Move::draw;
    QString told = draws ? BrightnessLadder::tr("with %1:").arg(name)
                         : BrightnessLadder::tr("without %1:").arg(name);
    if (effect.change.acum) {
      told += QLatin1Char(' ') +
              BrightnessLadder::tr("%1 acum,").arg(signed_figure(*effect.change.acum, 2));
      if (measured.full.sharpness_acum)
        preview.acum = *measured.full.sharpness_acum + *effect.change.acum;
    }
    told += QLatin1Char(' ') + BrightnessLadder::tr("loudness %1, lead %2 sone")
                                   .arg(signed_figure(effect.change.sone, 1),
                                        signed_figure(effect.change.lead_sone, 1));
    preview.words = told.toStdString();
    return preview;
  }
  return std::nullopt;
}

BrightnessLadder::BrightnessLadder(QWidget* parent)
    : QWidget(parent), theme_(theme_of(Shade::light)) {
  setAccessibleName(tr("Brightness of every pass"));
  setFocusPolicy(Qt::StrongFocus);
}

void BrightnessLadder::set_theme(const Theme& theme) {
  theme_ = theme;
  update();
}

void BrightnessLadder::set_rungs(std::vector<Rung> rungs) {
  rungs_ = std::move(rungs);
  preview_.reset();
  updateGeometry();
  tell_reader();
  update();
}

void BrightnessLadder::set_preview(std::optional<RungPreview> preview) {
  preview_ = std::move(preview);
  tell_reader();
  update();
}

void BrightnessLadder::set_chosen(std::size_t rung) {
  chosen_ = rung;
  tell_reader();
  update();
}

void BrightnessLadder::tell_reader() {
  QString told;
  for (const Rung& rung : rungs_) {
    told += label_of(rung) + QStringLiteral(": ") + figures_of(rung);
    if (rung.full_acum && rung.empty_acum)
      told += tr(", sharpness %1 acum empty, %2 with people")
                  .arg(*rung.empty_acum, 0, 'f', 2)
                  .arg(*rung.full_acum, 0, 'f', 2);
    told += QStringLiteral(". ");
  }
  if (preview_) told += words(preview_->words);
  setAccessibleDescription(told);
  setToolTip(told);
}

double BrightnessLadder::rung_height() const { return 3.6 * fontMetrics().height(); }

QSize BrightnessLadder::sizeHint() const {
  const double rows = static_cast<double>(std::max<std::size_t>(rungs_.size(), 2));
  return {360, static_cast<int>(rows * rung_height() + 3.5 * fontMetrics().height())};
}

QSize BrightnessLadder::minimumSizeHint() const { return {220, sizeHint().height()}; }

double BrightnessLadder::x_of(double acum, const QRectF& scale) const {
  const double share = std::clamp((acum - kLeastAcum) / (kMostAcum - kLeastAcum), 0.0, 1.0);
  return scale.left() + share * scale.width();
}

void BrightnessLadder::draw_rung(QPainter& painter, std::size_t rung, const QRectF& area) const {
  const Rung& shown = rungs_[rung];
  const bool chosen = rung == chosen_;
  QFont font = painter.font();
  font.setBold(chosen);
  painter.setFont(font);
  painter.setPen(theme_.ink);
  const QRectF label(area.left(), area.top(), area.width() * kLabelShare, area.height());
  painter.drawText(label, static_cast<int>(Qt::AlignVCenter) | static_cast<int>(Qt::TextWordWrap),
                   (chosen ? QStringLiteral("▸ ") : QString()) + label_of(shown));
  font.setBold(false);
  painter.setFont(font);
  const QRectF scale(label.right() + kMarginPx, area.top(),
                     area.width() - label.width() - 3 * kMarginPx, area.height());
  const double y = scale.top() + scale.height() * 0.36;
  const bool has_preview = preview_ && preview_->rung == rung;
  painter.setPen(has_preview ? theme_.ink : theme_.soft);
  painter.drawText(QRectF(scale.left(), y + 11, scale.width(), scale.height() * 0.6),
                   static_cast<int>(Qt::AlignTop) | static_cast<int>(Qt::TextWordWrap),
                   has_preview ? words(preview_->words) : figures_of(shown));
  painter.setPen(QPen(theme_.rule, 1));
  painter.drawLine(QPointF(scale.left(), y), QPointF(scale.right(), y));
  // The open mark is the larger one, so that both are seen where they meet.
  const auto mark = [&](double acum, double half, const QBrush& brush, Qt::PenStyle style) {
    painter.setPen(QPen(theme_.ink, 2, style));
    painter.setBrush(brush);
    painter.drawRect(QRectF(x_of(acum, scale) - half, y - half, 2 * half, 2 * half));
  };
  if (shown.empty_acum) mark(*shown.empty_acum, 9, theme_.paper, Qt::SolidLine);
  if (shown.full_acum) mark(*shown.full_acum, 4, theme_.ink, Qt::SolidLine);
  if (has_preview && preview_->acum) mark(*preview_->acum, 7, Qt::NoBrush, Qt::DotLine);
}

// What the marks mean.
void BrightnessLadder::draw_scale(QPainter& painter, const QRectF& area) const {
  painter.setPen(theme_.soft);
  painter.drawText(
      area, static_cast<int>(Qt::AlignTop) | static_cast<int>(Qt::TextWordWrap),
      tr("dull ← → bright; □ church empty, ■ with people, dotted: the stop looked at"));
}

void BrightnessLadder::paintEvent(QPaintEvent* /*event*/) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), theme_.paper);
  const double height = rung_height();
  for (std::size_t i = 0; i < rungs_.size(); ++i)
    draw_rung(painter, i, {0, static_cast<double>(i) * height, width() * 1.0, height});
  const double top = static_cast<double>(rungs_.size()) * height;
  draw_scale(painter, {0, top, width() * 1.0, this->height() - top});
  if (!hasFocus()) return;
  painter.setPen(QPen(theme_.ahead, 3));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(rect().adjusted(1, 1, -2, -2));
}

void BrightnessLadder::mousePressEvent(QMouseEvent* event) {
  const auto rung = static_cast<std::size_t>(std::max(0.0, event->position().y() / rung_height()));
  if (rung < rungs_.size()) emit rung_chosen(rung);
}

void BrightnessLadder::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Down && chosen_ + 1 < rungs_.size()) {
    emit rung_chosen(chosen_ + 1);
  } else if (event->key() == Qt::Key_Up && chosen_ > 0) {
    emit rung_chosen(chosen_ - 1);
  } else {
    QWidget::keyPressEvent(event);
  }
}

}  // namespace loftbeat::window
