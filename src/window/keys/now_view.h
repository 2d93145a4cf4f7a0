#pragma once

#include <QString>
#include <QWidget>

#include "window/desk/theme.h"
#include "window/keys/practice_thread.h"

namespace loftbeat::window {

// Where one is and what comes, to be read at arm's length: verse and line, the bar's beats, the
// coming join, and whether the last one was in time. Ahead or behind now is drawn only if wanted.
class NowView : public QWidget {
  Q_OBJECT

 public:
  explicit NowView(QWidget* parent = nullptr);

  void set_theme(const Theme& theme);
  void set_shows_drift(app::ListenOrder::Shown shown);
  // Draws anew only what changed.
  void set_sight(const PracticeSight& sight);

  [[nodiscard]] QSize minimumSizeHint() const override { return {320, 280}; }
  [[nodiscard]] QSize sizeHint() const override { return {760, 520}; }

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  struct Pen;  // where on the page, with what
  void draw_place(QPainter& painter, const QRectF& area) const;
  void draw_beats(QPainter& painter, const QRectF& area) const;
  void draw_join(QPainter& painter, const QRectF& area) const;
  void draw_verdict(QPainter& painter, const QRectF& area) const;
  void draw_drift(QPainter& painter, const QRectF& area) const;
  void tell_reader();

  Theme theme_;
  app::ListenOrder::Shown shown_ = app::ListenOrder::Shown::place;
  PracticeSight sight_;
};

// The large words at the head: "Verse 2", "Play when you like", "1 2 3".
[[nodiscard]] QString head_words(const PracticeSight& sight);
// At the coming join: what to do, or where to look before it. Empty: nothing is known.
[[nodiscard]] QString join_ahead_words(const PracticeSight& sight);

}  // namespace loftbeat::window
