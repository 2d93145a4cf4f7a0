#pragma once

#include <QScrollArea>
#include <QWidget>

class QVBoxLayout;

namespace loftbeat::window {

// A column of widgets inside a scroll area that is as high as its words need at the width there is:
// a scroll area by itself does not ask how high wrapped words become.
class TallPage : public QWidget {
  Q_OBJECT

 public:
  explicit TallPage(QWidget* parent = nullptr);
  // Takes everything away; the column to be filled anew.
  QVBoxLayout* emptied();
  // The page in a scroll area of that name.
  [[nodiscard]] static QScrollArea* in_area(QWidget* page, const QString& name);

 protected:
  bool event(QEvent* event) override;

 private:
  void grow();
};

}  // namespace loftbeat::window
