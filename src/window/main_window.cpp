#include "window/main_window.h"

#include <QButtonGroup>
#include <QCloseEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QShortcut>
#include <QStackedWidget>
#include <QVBoxLayout>

#include "window/desk/words.h"
#include "window/keys/keys_place.h"
#include "window/look_back/look_back_place.h"
#include "window/prepare/prepare_place.h"

namespace loftbeat::window {
namespace {

const QString kWhere = QStringLiteral("where");
const QString kShape = QStringLiteral("shape");

}  // namespace

MainWindow::MainWindow(Desk& desk) : desk_(desk), stack_(new QStackedWidget), hymn_(new QLabel) {
  setWindowTitle(tr("Loftbeat"));
  places_ = {new PreparePlace(desk), new KeysPlace(desk), new LookBackPlace(desk)};
  auto* whole = new QWidget;
  auto* layout = new QVBoxLayout(whole);
  layout->addWidget(head());
  for (Place* place : places_) stack_->addWidget(place);
  layout->addWidget(stack_, 1);
  setCentralWidget(whole);
  connect(stack_, &QStackedWidget::currentChanged, this, &MainWindow::changed);
  connect(&desk_, &Desk::plan_changed, this, &MainWindow::tell_hymn);
  connect(&desk_, &Desk::parish_changed, this, &MainWindow::tell_hymn);
  connect(&desk_, &Desk::look_back_wanted, this, [this] { go_to(At::look_back); });
  tell_hymn();
  resize(1180, 780);
  restoreGeometry(desk_.settings().value(kShape).toByteArray());
  const int where = desk_.settings().value(kWhere, 0).toInt();
  go_to(static_cast<At>(where >= 0 && where < static_cast<int>(kPlaces) ? where : 0));
  if (before_ < 0) changed(stack_->currentIndex());
}

QWidget* MainWindow::head() {
  auto* head = new QWidget;
  auto* row = new QHBoxLayout(head);
  row->setContentsMargins(0, 0, 0, 0);
  const std::array<QString, kPlaces> names = {tr("&Prepare"), tr("At the &keys"), tr("&Look back")};
  auto* group = new QButtonGroup(this);
  for (std::size_t i = 0; i < kPlaces; ++i) {
    auto* button = new QPushButton(names[i]);
    button->setCheckable(true);
    button->setMinimumHeight(kTarget);
    button->setAccessibleName(QString(names[i]).remove(QLatin1Char('&')));
    group->addButton(button);
    row->addWidget(button);
    buttons_[i] = button;
    connect(button, &QPushButton::clicked, this, [this, i] { go_to(static_cast<At>(i)); });
    auto* shortcut =
        new QShortcut(QKeySequence(Qt::CTRL | static_cast<Qt::Key>(Qt::Key_1 + i)), this);
    connect(shortcut, &QShortcut::activated, this, [this, i] { go_to(static_cast<At>(i)); });
  }
  hymn_->setAccessibleName(tr("Hymn on the desk"));
  hymn_->setAlignment(Qt::AlignCenter);
  row->addWidget(hymn_, 1);
  add_look_buttons(head);
  return head;
}

void MainWindow::add_look_buttons(QWidget* head) {
  const auto add = [head](const QString& text, const QString& name) {
    auto* button = new QPushButton(text);
    button->setAccessibleName(name);
    button->setToolTip(name);
    button->setMinimumSize(kTarget, kTarget);
    head->layout()->addWidget(button);
    return button;
  };
  auto* smaller = add(tr("A−"), tr("Smaller type"));
  auto* larger = add(tr("A+"), tr("Larger type"));
  auto* shade = add(tr("Dark"), tr("Dark background"));
  shade->setCheckable(true);
  shade->setChecked(desk_.shade() == Shade::dark);
  connect(smaller, &QPushButton::clicked, this,
          [this] { desk_.choose_look(desk_.shade(), desk_.scale() - kScaleStep); });
  connect(larger, &QPushButton::clicked, this,
          [this] { desk_.choose_look(desk_.shade(), desk_.scale() + kScaleStep); });
  connect(shade, &QPushButton::toggled, this, [this](bool dark) {
    desk_.choose_look(dark ? Shade::dark : Shade::light, desk_.scale());
  });
}

void MainWindow::go_to(At place) {
  const auto index = static_cast<std::size_t>(place);
  buttons_[index]->setChecked(true);
  stack_->setCurrentIndex(static_cast<int>(index));
  desk_.settings().setValue(kWhere, static_cast<int>(index));
}

MainWindow::At MainWindow::at() const { return static_cast<At>(stack_->currentIndex()); }

void MainWindow::changed(int index) {
  if (before_ >= 0) places_[static_cast<std::size_t>(before_)]->left();
  before_ = index;
  places_[static_cast<std::size_t>(index)]->entered();
}

void MainWindow::tell_hymn() {
  QString name = tr("No hymn chosen");
  for (const ParishFile& file : desk_.parish().plans)
    if (file.path == desk_.plan().toStdString()) name = words(file.name);
  hymn_->setText(name);
  setWindowTitle(tr("%1 · Loftbeat").arg(name));
}

void MainWindow::closeEvent(QCloseEvent* event) {
  for (Place* place : places_) place->closing();
  desk_.settings().setValue(kShape, saveGeometry());
  desk_.settings().sync();
  event->accept();
}

}  // namespace loftbeat::window
