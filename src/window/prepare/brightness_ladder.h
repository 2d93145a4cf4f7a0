#pragma once

#include <optional>
#include <string>
#include <vector>

#include <QWidget>

#include "advise/plan_measures.h"
#include "window/desk/theme.h"

namespace loftbeat::window {

// One pass as the ladder shows it.
struct Rung {
  std::string label;
  std::string silent_because;        // empty: it sounds
  double empty_sone = 0;             // loudness of the organ, church empty
  double full_sone = 0;              // and with the people
  std::optional<double> empty_acum;  // sharpness
  std::optional<double> full_acum;
  double lead_sone = 0;  // over the singing, with people
};
[[nodiscard]] std::vector<Rung> rungs_of(const advise::PlanMeasures& measures);

// What a stop that is not drawn yet, or a drawn one pushed in, would do to one pass.
struct RungPreview {
  std::size_t rung = 0;
  std::string words;           // "with Fifteenth 2: +0.18 acum, lead +5.4 sone"
  std::optional<double> acum;  // where its mark would go
};
// Nothing: that stop cannot change this pass.
[[nodiscard]] std::optional<RungPreview> preview_of(const advise::PlanMeasures& measures,
                                                    std::size_t pass, std::size_t stop);

// Every pass a rung: how bright it is in the empty church (open mark) and with the people (full
// mark), with loudness and lead beside it in figures.
class BrightnessLadder : public QWidget {
  Q_OBJECT

 public:
  explicit BrightnessLadder(QWidget* parent = nullptr);
  void set_theme(const Theme& theme);
  void set_rungs(std::vector<Rung> rungs);
  void set_preview(std::optional<RungPreview> preview);
  void set_chosen(std::size_t rung);

  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

 signals:
  void rung_chosen(std::size_t rung);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

 private:
  [[nodiscard]] double rung_height() const;
  [[nodiscard]] double x_of(double acum, const QRectF& scale) const;
  void draw_rung(QPainter& painter, std::size_t rung, const QRectF& area) const;
  void draw_scale(QPainter& painter, const QRectF& area) const;
  void tell_reader();

  Theme theme_;
  std::vector<Rung> rungs_;
  std::optional<RungPreview> preview_;
  std::size_t chosen_ = 0;
};

}  // namespace loftbeat::window
