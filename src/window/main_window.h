#pragma once

#include <array>

#include <QMainWindow>

#include "window/desk/desk.h"
#include "window/desk/place.h"

class QLabel;
class QPushButton;
class QStackedWidget;

namespace loftbeat::window {

// The window: a row with the three places and how things look, and below it the place one is at.
// Ctrl+1 to Ctrl+3 lead there too. Where one was, and the window's size, are remembered.
class MainWindow : public QMainWindow {
  Q_OBJECT

 public:
  enum class At { prepare, keys, look_back };
  static constexpr std::size_t kPlaces = 3;
  // `desk` must outlive this.
  explicit MainWindow(Desk& desk);

  void go_to(At place);
  [[nodiscard]] At at() const;
  [[nodiscard]] Place& place(At at) { return *places_[static_cast<std::size_t>(at)]; }

 protected:
  void closeEvent(QCloseEvent* event) override;

 private:
  QWidget* head();
  void add_look_buttons(QWidget* head);
  void changed(int index);
  void tell_hymn();

  Desk& desk_;
  QStackedWidget* stack_;
  QLabel* hymn_;
  std::array<Place*, kPlaces> places_{};
  std::array<QPushButton*, kPlaces> buttons_{};
  int before_ = -1;
};

}  // namespace loftbeat::window
