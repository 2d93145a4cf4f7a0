#pragma once

#include <string>
#include <vector>

#include <QWidget>

#include "window/desk/desk.h"
#include "window/keys/practice_choices.h"

class QComboBox;
class QFormLayout;
class QSpinBox;

namespace loftbeat::window {

// How one wants to practise, remembered as soon as it is chosen.
class ChoicesPanel : public QWidget {
  Q_OBJECT

 public:
  explicit ChoicesPanel(Desk& desk, QWidget* parent = nullptr);

  [[nodiscard]] const PracticeChoices& choices() const { return choices_; }
  // The names of the inputs that there are.
  void set_inputs(const std::vector<std::string>& names);
  // How many there are: each but the last has a join after it.
  void set_verses(int verses);

 signals:
  void chosen();

 private:
  QComboBox* add_list(QFormLayout* form, const QString& title, const QStringList& entries,
                      int index);
  QSpinBox* add_number(QFormLayout* form, const QString& title, int least, int most, int value);
  void take();

  Desk& desk_;
  PracticeChoices choices_;
  QComboBox* part_;
  QSpinBox* join_;
  QComboBox* click_;
  QComboBox* ranks_;
  QSpinBox* volume_;
  QSpinBox* singing_;
  QSpinBox* reluctance_;
  QComboBox* stops_;
  QComboBox* shown_;
  QComboBox* input_;
  QComboBox* signal_;
};

}  // namespace loftbeat::window
