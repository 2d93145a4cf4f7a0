#pragma once

#include <memory>

#include "practice/history.h"
#include "report/numbers.h"
#include "window/desk/theme.h"
#include "window/look_back/trend_layout.h"
#include "window/notation/spoken_picture.h"

namespace loftbeat::window {

// One figure over the weeks. A practice is chosen with left and right or by mouse, and opened with
// Enter or a second click.
class TrendView : public SpokenPicture {
  Q_OBJECT

 public:
  struct Figure {
    QString name;  // "How far the joins were off"
    practice::FigureOfPractice value = nullptr;
    double tolerated = 0;
    report::NumberStyle style;
  };
  TrendView(std::shared_ptr<const practice::TuneHistory> history, const Figure& figure,
            const Theme& theme, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] int chosen() const { return chosen_; }

 signals:
  // The practice's folder, by its name.
  void practice_opened(const QString& folder);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

 private:
  [[nodiscard]] Trend trend() const;
  [[nodiscard]] QString point_words(std::size_t practice) const;
  void choose(int point);
  void open();

  std::shared_ptr<const practice::TuneHistory> history_;
  Figure figure_;
  Theme theme_;
  int chosen_ = -1;  // index into the trend's points
};

}  // namespace loftbeat::window
