#include "window/notation/spoken_picture.h"

#include <QAccessible>
#include <QAccessibleWidget>

namespace loftbeat::window {
namespace {

class PictureAccess : public QAccessibleWidget {
 public:
  explicit PictureAccess(SpokenPicture* picture)
      : QAccessibleWidget(picture, QAccessible::Graphic), picture_(picture) {}

  [[nodiscard]] QString text(QAccessible::Text kind) const override {
    return kind == QAccessible::Value ? picture_->spoken() : QAccessibleWidget::text(kind);
  }

 private:
  SpokenPicture* picture_;
};

QAccessibleInterface* picture_access(const QString&, QObject* object) {
  auto* picture = qobject_cast<SpokenPicture*>(object);
  return picture == nullptr ? nullptr : new PictureAccess(picture);
}

}  // namespace

SpokenPicture::SpokenPicture(QWidget* parent) : QWidget(parent) {
  static const bool installed = [] {
    QAccessible::installFactory(picture_access);
    return true;
  }();
  Q_UNUSED(installed)
}

void SpokenPicture::speak(const QString& words) {
  if (words == spoken_) return;
  spoken_ = words;
  QAccessibleValueChangeEvent event(this, words);
  QAccessible::updateAccessibility(&event);
}

void SpokenPicture::focusInEvent(QFocusEvent* event) {
  QWidget::focusInEvent(event);
  update();
}

void SpokenPicture::focusOutEvent(QFocusEvent* event) {
  QWidget::focusOutEvent(event);
  update();
}

}  // namespace loftbeat::window
