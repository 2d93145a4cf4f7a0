#pragma once

#include <QString>
#include <QWidget>

namespace loftbeat::window {

// A drawing that is a widget, and says in words what it shows: a screen reader finds it as a
// graphic with name, description and, where something in it is chosen, that as its value.
class SpokenPicture : public QWidget {
  Q_OBJECT

 public:
  explicit SpokenPicture(QWidget* parent = nullptr);
  // What is chosen, in words; empty if nothing is.
  [[nodiscard]] const QString& spoken() const { return spoken_; }

 protected:
  // Tells a screen reader at once.
  void speak(const QString& words);
  void focusInEvent(QFocusEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;

 private:
  QString spoken_;
};

}  // namespace loftbeat::window
