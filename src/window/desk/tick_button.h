#pragma once

#include <QPushButton>

namespace loftbeat::window {

// A switch with words on it: in, it carries a tick and stands out; out, it does not. Pressing it
// only tells that it was pressed; whoever owns it says how it stands.
class TickButton : public QPushButton {
  Q_OBJECT

 public:
  explicit TickButton(const QString& words, QWidget* parent = nullptr);
  // Emits nothing.
  void set_in(bool in);
  [[nodiscard]] bool is_in() const { return isChecked(); }

 signals:
  // Someone wants it to be in, or out.
  void wanted(bool in);

 private:
  QString words_;
};

}  // namespace loftbeat::window
