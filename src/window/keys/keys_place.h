#pragma once

#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <QElapsedTimer>
#include <QTemporaryDir>
#include <QTimer>

#include "window/desk/desk.h"
#include "window/desk/long_work.h"
#include "window/desk/place.h"
#include "window/keys/practice_thread.h"

class QLabel;
class QPushButton;
class QScrollArea;
class QTextEdit;

namespace loftbeat::window {

class ChoicesPanel;
class NowView;
class StopSwitches;

// Where one plays: what is heard, where one is, what comes, and after each try how it went. Listens
// only between Listen and Stop listening, and goes on while another place is shown.
class KeysPlace : public Place {
  Q_OBJECT

 public:
  // `desk` must outlive this.
  explicit KeysPlace(Desk& desk, QWidget* parent = nullptr);
  ~KeysPlace() override;

  void entered() override;
  void closing() override;

  [[nodiscard]] const PracticeSight& sight() const { return sight_; }

 private:
  QWidget* left_side();
  QWidget* right_side();
  QPushButton* add_button(QWidget* parent, const QString& text, const QString& meaning);
  void listen();
  void try_without_keyboard();
  void open(app::ListenOrder order);
  void leave_or_listen();
  void begin_or_end();
  void look_for_inputs();
  void take_plan();
  void look();
  void show_sight();
  void show_input();
  void show_results();
  void add_said(const std::string& sentence);

  Desk& desk_;
  PracticeThread thread_;
  PracticeSight sight_;
  LongWork finding_;    // of inputs
  LongWork preparing_;  // of a simulated take
  QTemporaryDir scratch_;
  QTimer timer_;
  QElapsedTimer since_message_;
  std::uint64_t messages_ = 0;
  int practices_ = 0;
  std::vector<std::string> inputs_;

  NowView* now_;
  ChoicesPanel* choices_;
  StopSwitches* stops_ = nullptr;  // null without an organ
  QScrollArea* stops_area_;
  QLabel* input_;
  QLabel* caution_;
  QTextEdit* said_;
  QPushButton* listen_;
  QPushButton* begin_;
  QPushButton* simulated_;
  QPushButton* look_back_;
};

}  // namespace loftbeat::window
