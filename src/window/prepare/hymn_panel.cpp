#include "window/prepare/hymn_panel.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <QComboBox>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>

#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

constexpr int kIsPlan = Qt::UserRole + 1;

void fill(QComboBox* list, const std::vector<ParishFile>& files, const QString& none) {
  list->clear();
  list->addItem(none, QString());
  for (const ParishFile& file : files) list->addItem(words(file.name), words(file.path));
}

}  // namespace

HymnPanel::HymnPanel(Desk& desk, PlanSketch& sketch, QWidget* parent)
    : QWidget(parent), desk_(desk), sketch_(sketch) {
  auto* column = new QVBoxLayout(this);
  search_ = new QLineEdit;
  search_->setPlaceholderText(tr("Search hymns"));
  search_->setAccessibleName(tr("Search hymns"));
  search_->setClearButtonEnabled(true);
  hymns_ = new QListWidget;
  hymns_->setAccessibleName(tr("Hymns"));
  hymns_->setMinimumHeight(130);
  column->addWidget(search_);
  column->addWidget(hymns_, 1);
  auto* form = new QFormLayout;
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  const auto add_list = [form](const QString& title) {
    auto* list = new QComboBox;
    list->setAccessibleName(title);
    form->addRow(title, list);
    return list;
  };
  organ_ = add_list(tr("Organ"));
  church_ = add_list(tr("Church"));
  people_ = add_number<QSpinBox>(form, tr("People expected"), 0, 3000);
  people_->setSpecialValueText(tr("as the church expects"));
  tempo_ = add_number<QDoubleSpinBox>(form, tr("Beats a minute"), 0, 300);
  tempo_->setSpecialValueText(tr("as the score says"));
  tempo_->setDecimals(0);
  auto* tap_here = new QPushButton(tr("Tap the &beat here"));
  tap_here->setToolTip(tr("Three taps or more; Space taps too."));
  tap_here->setAccessibleName(tr("Tap the beat here"));
  form->addRow(tap_here);
  verses_ = add_number<QSpinBox>(form, tr("Verses"), 0, 40);
  verses_->setSpecialValueText(tr("as many as the text has"));
  join_kind_ = add_list(tr("Between verses"));
  join_kind_->addItems({tr("hold, then lift"), tr("the metre runs on"), tr("nothing planned")});
  hold_ = add_number<QDoubleSpinBox>(form, tr("Beats the last chord is held"), 0, 32);
  lift_ = add_number<QDoubleSpinBox>(form, tr("Beats of silence"), 0, 32);
  for (QDoubleSpinBox* beats : {hold_, lift_}) {
    beats->setDecimals(1);
    beats->setSingleStep(0.5);
  }
  column->addLayout(form);
  clock_.start();

  connect(search_, &QLineEdit::textChanged, this, &HymnPanel::fill_hymns);
  connect(hymns_, &QListWidget::itemSelectionChanged, this, &HymnPanel::choose_row);
  connect(tap_here, &QPushButton::pressed, this, &HymnPanel::tap);
  connect(organ_, &QComboBox::activated, this,
          [this] { take_place(organ_, &plan::Plan::organ_path, tr("organ")); });
  connect(church_, &QComboBox::activated, this,
          [this] { take_place(church_, &plan::Plan::church_path, tr("church")); });
  connect(people_, &QSpinBox::valueChanged, this, [this](int people) {
    if (showing_) return;
    sketch_.change(
        tr("people expected"),
        [people](plan::Plan& plan) {
          plan.people = people > 0 ? std::optional<int>(people) : std::nullopt;
        },
        QStringLiteral("people"));
  });
  connect(tempo_, &QDoubleSpinBox::valueChanged, this, [this](double tempo) {
    if (showing_) return;
    const double bpm = tempo > 0 ? std::max(20.0, tempo) : 0;
    sketch_.change(
        tr("tempo"), [bpm](plan::Plan& plan) { plan.tempo_bpm = bpm; }, QStringLiteral("tempo"));
  });
  connect(verses_, &QSpinBox::valueChanged, this, [this](int verses) {
    if (showing_) return;
    sketch_.change(
        tr("verses"),
        [verses](plan::Plan& plan) {
          plan.verses = verses > 0 ? std::optional<int>(verses) : std::nullopt;
          if (verses > 0)  // what was planned for a verse that is not sung goes
            plan.verse_plans.erase(plan.verse_plans.upper_bound(verses), plan.verse_plans.end());
        },
        QStringLiteral("verses"));
  });
  connect(join_kind_, &QComboBox::activated, this, &HymnPanel::take_joins);
  connect(hold_, &QDoubleSpinBox::valueChanged, this, &HymnPanel::take_joins);
  connect(lift_, &QDoubleSpinBox::valueChanged, this, &HymnPanel::take_joins);
  connect(&sketch_, &PlanSketch::changed, this, &HymnPanel::show_plan);
  connect(&desk_, &Desk::parish_changed, this, [this] {
    fill_hymns();
    fill_places();
  });
  fill_hymns();
  fill_places();
}

template <typename Box>
Box* HymnPanel::add_number(QFormLayout* form, const QString& title, double least, double most) {
  auto* box = new Box;
  using Value = decltype(box->value());
  box->setRange(static_cast<Value>(least), static_cast<Value>(most));
  box->setAccessibleName(title);
  box->setKeyboardTracking(false);
  form->addRow(title, box);
  return box;
}

void HymnPanel::fill_hymns() {
  const QSignalBlocker quiet(hymns_);
  hymns_->clear();
  const auto add = [this](const ParishFile& file, bool is_plan) {
    const QString name = is_plan ? words(file.name) : tr("%1 (no plan yet)").arg(words(file.name));
    if (!name.contains(search_->text(), Qt::CaseInsensitive)) return;
    auto* item = new QListWidgetItem(name, hymns_);
    item->setData(Qt::UserRole, words(file.path));
    item->setData(kIsPlan, is_plan);
    if (is_plan && words(file.path) == desk_.plan()) hymns_->setCurrentItem(item);
  };
  for (const ParishFile& file : desk_.parish().plans) add(file, true);
  for (const ParishFile& file : desk_.parish().scores) add(file, false);
}

void HymnPanel::fill_places() {
  fill(organ_, desk_.parish().organs, tr("none"));
  fill(church_, desk_.parish().churches, tr("none"));
  show_plan();
}

void HymnPanel::choose_row() {
  const QList<QListWidgetItem*> chosen = hymns_->selectedItems();
  if (chosen.isEmpty()) return;
  emit hymn_chosen(chosen.front()->data(Qt::UserRole).toString(),
                   chosen.front()->data(kIsPlan).toBool());
}

void HymnPanel::show_plan() {
  const plan::Plan& plan = sketch_.plan();
  showing_ = true;
  const auto show_place = [](QComboBox* list, const std::string& path) {
    int at = list->findData(words(path));
    if (at < 0) {
      list->addItem(words(path), words(path));
      at = list->count() - 1;
    }
    list->setCurrentIndex(at);
  };
  show_place(organ_, plan.organ_path);
  show_place(church_, plan.church_path);
  people_->setValue(plan.people.value_or(0));
  tempo_->setValue(plan.tempo_bpm);
  verses_->setValue(plan.verses.value_or(0));
  const bool holds = plan.join && plan.join->kind == plan::JoinKind::hold_and_lift;
  join_kind_->setCurrentIndex(!plan.join ? 2 : holds ? 0 : 1);
  hold_->setValue(holds ? plan.join->hold_beats : 0);
  lift_->setValue(holds ? plan.join->lift_beats : 0);
  hold_->setEnabled(holds);
  lift_->setEnabled(holds);
  showing_ = false;
}

void HymnPanel::take_place(QComboBox* list, std::string plan::Plan::*path, const QString& said) {
  if (showing_) return;
  const std::string chosen = list->currentData().toString().toStdString();
  sketch_.change(said, [path, &chosen](plan::Plan& plan) { plan.*path = chosen; });
}

void HymnPanel::take_joins() {
  if (showing_) return;
  std::optional<plan::Join> join;
  if (join_kind_->currentIndex() == 0) {
    join = plan::Join{plan::JoinKind::hold_and_lift, hold_->value(), lift_->value(), 0};
    if (join->hold_beats + join->lift_beats <= 0) join->hold_beats = 2;
  } else if (join_kind_->currentIndex() == 1) {
    join = plan::Join{plan::JoinKind::by_the_bar, 0, 0, 0};
  }
  sketch_.change(
      tr("join"), [join](plan::Plan& plan) { plan.join = join; }, QStringLiteral("join"));
}

void HymnPanel::tap() {
  const auto tempo = taps_.tap(static_cast<double>(clock_.elapsed()) / 1000);
  if (tempo) tempo_->setValue(std::round(std::clamp(*tempo, 20.0, 300.0)));
}

}  // namespace loftbeat::window
