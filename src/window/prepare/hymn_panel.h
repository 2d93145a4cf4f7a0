#pragma once

#include <QElapsedTimer>
#include <QWidget>

#include "window/desk/desk.h"
#include "window/prepare/plan_sketch.h"
#include "window/prepare/tempo_tap.h"

class QComboBox;
class QDoubleSpinBox;
class QFormLayout;
class QLineEdit;
class QListWidget;
class QSpinBox;

namespace loftbeat::window {

// What holds for the whole hymn: which it is, where and for how many it is played, its speed, its
// verses and the beats of its joins.
class HymnPanel : public QWidget {
  Q_OBJECT

 public:
  // Both must outlive this.
  HymnPanel(Desk& desk, PlanSketch& sketch, QWidget* parent = nullptr);

 signals:
  // A hymn was chosen: the file of its plan, or of a score that has none yet.
  void hymn_chosen(const QString& path, bool is_plan);

 private:
  void fill_hymns();
  void fill_places();
  void show_plan();
  void choose_row();
  void take_place(QComboBox* list, std::string plan::Plan::*path, const QString& words);
  void take_joins();
  void tap();
  template <typename Box>
  Box* add_number(QFormLayout* form, const QString& title, double least, double most);

  Desk& desk_;
  PlanSketch& sketch_;
  TempoTap taps_;
  QElapsedTimer clock_;
  bool showing_ = false;  // fields are being filled, nobody typed

  QLineEdit* search_;
  QListWidget* hymns_;
  QComboBox* organ_;
  QComboBox* church_;
  QSpinBox* people_;
  QDoubleSpinBox* tempo_;
  QSpinBox* verses_;
  QComboBox* join_kind_;
  QDoubleSpinBox* hold_;
  QDoubleSpinBox* lift_;
};

}  // namespace loftbeat::window
