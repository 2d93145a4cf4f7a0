#include "window/look_back/tall_page.h"

#include <QEvent>
#include <QVBoxLayout>

namespace loftbeat::window {

TallPage::TallPage(QWidget* parent) : QWidget(parent) { new QVBoxLayout(this); }

QVBoxLayout* TallPage::emptied() {
  delete layout();
  qDeleteAll(findChildren<QWidget*>(QString(), Qt::FindDirectChildrenOnly));
  auto* column = new QVBoxLayout(this);
  column->setSpacing(10);
  return column;
}

QScrollArea* TallPage::in_area(QWidget* page, const QString& name) {
  auto* area = new QScrollArea;
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setFocusPolicy(Qt::NoFocus);
  area->setAccessibleName(name);
  area->setWidget(page);
  return area;
}

bool TallPage::event(QEvent* event) {
  const bool done = QWidget::event(event);
  if (event->type() == QEvent::Resize || event->type() == QEvent::LayoutRequest) grow();
  return done;
}

void TallPage::grow() {
  const int needed = layout()->hasHeightForWidth() ? layout()->totalHeightForWidth(width())
                                                   : layout()->totalMinimumSize().height();
  if (needed > 0 && needed != minimumHeight()) setMinimumHeight(needed);
}

}  // namespace loftbeat::window
