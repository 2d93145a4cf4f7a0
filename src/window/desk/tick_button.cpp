#include "window/desk/tick_button.h"

namespace loftbeat::window {

TickButton::TickButton(const QString& words, QWidget* parent) : QPushButton(parent), words_(words) {
  setCheckable(true);
  setAccessibleName(words);
  setStyleSheet(QStringLiteral("text-align: left;"));
  set_in(false);
  connect(this, &QPushButton::clicked, this, [this](bool in) {
    set_in(!in);
    emit wanted(in);
  });
}

void TickButton::set_in(bool in) {
  setChecked(in);
  setText((in ? QStringLiteral("✓ ") : QStringLiteral("   ")) + words_);
}

}  // namespace loftbeat::window
