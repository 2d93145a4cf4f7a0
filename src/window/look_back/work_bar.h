#pragma once

#include <QTimer>
#include <QWidget>

#include "window/desk/long_work.h"

class QLabel;
class QProgressBar;
class QPushButton;

namespace loftbeat::window {

// Shows that long work goes on, how far it is, and a button that ends it; hidden while nothing
// does. Short work does not make it flash.
class WorkBar : public QWidget {
  Q_OBJECT

 public:
  // `work` must outlive this.
  explicit WorkBar(LongWork& work, QWidget* parent = nullptr);
  // What is done, before the work is started: "Writing the sound file".
  void name_work(const QString& what);

 private:
  void look();

  LongWork& work_;
  QTimer timer_;
  QLabel* what_;
  QProgressBar* bar_;
  QPushButton* cancel_;
};

}  // namespace loftbeat::window
