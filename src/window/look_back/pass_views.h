#pragma once

#include <memory>

#include "app/kept_practice.h"
#include "report/join_strip.h"
#include "report/ribbon.h"
#include "window/desk/theme.h"
#include "window/notation/spoken_picture.h"

namespace loftbeat::window {

// A practice that is shown in several places at once, and never changes.
using ShownPractice = std::shared_ptr<const app::ReviewedPractice>;

// The beat ribbon of one pass. A beat is chosen by mouse, or with the keys left, right, Home and
// End.
class RibbonView : public SpokenPicture {
  Q_OBJECT

 public:
  // `scale`: shared by all passes that are to be compared.
  RibbonView(ShownPractice practice, int pass, const report::RibbonScale& scale, const Theme& theme,
             QWidget* parent = nullptr);

  [[nodiscard]] int pass() const { return pass_; }
  [[nodiscard]] int chosen() const { return chosen_; }
  // Tells nobody; -1: none.
  void choose(int beat);
  // Where a beat is in the widget.
  [[nodiscard]] QPointF place_of(int beat) const;

  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] int heightForWidth(int width) const override;

 signals:
  void beat_chosen(int pass, int beat);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void changeEvent(QEvent* event) override;

 private:
  void lay_out();
  void choose_by_user(int beat);
  [[nodiscard]] int next_beat(int step) const;

  ShownPractice practice_;
  int pass_;
  report::RibbonScale scale_;
  Theme theme_;
  report::Ribbon ribbon_;
  int chosen_ = -1;
};

// One row of the join strip: chosen by mouse, Enter or space.
class JoinView : public SpokenPicture {
  Q_OBJECT

 public:
  // `beats`: what the scale of all rows holds.
  JoinView(ShownPractice practice, int join, double beats, const Theme& theme,
           QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

 signals:
  void join_chosen(int join);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

 private:
  ShownPractice practice_;
  int join_;
  double beats_;
  Theme theme_;
};

// How much larger the drawings' units are for the type in use.
[[nodiscard]] double drawn_scale(const QWidget& widget);

}  // namespace loftbeat::window
