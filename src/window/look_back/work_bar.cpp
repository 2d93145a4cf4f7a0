#include "window/look_back/work_bar.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>

#include "window/desk/theme.h"

namespace loftbeat::window {
namespace {

constexpr int kLookEveryWork = 100;  // ms; also how long work may take before it is shown
constexpr int kWhole = 1000;

}  // namespace

WorkBar::WorkBar(LongWork& work, QWidget* parent)
    : QWidget(parent),
      work_(work),
      what_(new QLabel),
      bar_(new QProgressBar),
      cancel_(new QPushButton(tr("Cancel"))) {
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(0, 0, 0, 0);
  row->addWidget(what_);
  row->addWidget(bar_, 1);
  row->addWidget(cancel_);
  bar_->setRange(0, kWhole);
  cancel_->setMinimumHeight(kTarget);
  cancel_->setAccessibleName(tr("Cancel what is being done"));
  name_work(tr("Working"));
  hide();
  connect(cancel_, &QPushButton::clicked, this, [this] { work_.cancel(); });
  connect(&work_, &LongWork::began, this, [this] { timer_.start(kLookEveryWork); });
  connect(&work_, &LongWork::ended, this, [this] {
    timer_.stop();
    hide();
  });
  connect(&timer_, &QTimer::timeout, this, &WorkBar::look);
}

void WorkBar::name_work(const QString& what) {
  what_->setText(what);
  bar_->setAccessibleName(what);
}

void WorkBar::look() {
  bar_->setValue(static_cast<int>(work_.done() * kWhole));
  show();
}

}  // namespace loftbeat::window
