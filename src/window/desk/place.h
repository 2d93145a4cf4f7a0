#pragma once

#include <QWidget>

namespace loftbeat::window {

// One of the places of the window.
class Place : public QWidget {
  Q_OBJECT

 public:
  explicit Place(QWidget* parent = nullptr);
  // It has become the one that is shown; it is no longer. What costs anything runs in between only.
  virtual void entered() {}
  virtual void left() {}
  // The window is about to close: ends what runs and keeps what was typed or played.
  virtual void closing() {}
};

}  // namespace loftbeat::window
