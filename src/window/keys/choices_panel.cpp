#include "window/keys/choices_panel.h"

#include <algorithm>

#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QSpinBox>

#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

// Pedals and keys that players have free; what they send is common practice, no source (controller
// numbers 64, 66 and 67: MIDI 1.0; notes 21 and 108: the ends of a keyboard of 88 keys).
struct FreeSignal {
  const char* sends;
  const char* words;
};
constexpr FreeSignal kSignals[] = {
    {"", QT_TRANSLATE_NOOP("loftbeat::window::ChoicesPanel", "only here")},
    {"control 64", QT_TRANSLATE_NOOP("loftbeat::window::ChoicesPanel", "the sustain pedal")},
    {"control 66", QT_TRANSLATE_NOOP("loftbeat::window::ChoicesPanel", "the middle pedal")},
    {"control 67", QT_TRANSLATE_NOOP("loftbeat::window::ChoicesPanel", "the soft pedal")},
    {"note 21", QT_TRANSLATE_NOOP("loftbeat::window::ChoicesPanel", "the lowest key of 88")},
    {"note 108", QT_TRANSLATE_NOOP("loftbeat::window::ChoicesPanel", "the highest key of 88")},
};

template <typename Choice>
Choice chosen_in(const QComboBox* list) {
  return static_cast<Choice>(std::max(0, list->currentIndex()));
}

}  // namespace

ChoicesPanel::ChoicesPanel(Desk& desk, QWidget* parent)
    : QWidget(parent), desk_(desk), choices_(read_choices(desk.settings())) {
  auto* form = new QFormLayout(this);
  form->setRowWrapPolicy(QFormLayout::WrapAllRows);
  const auto index = [](auto choice) { return static_cast<int>(choice); };
  part_ = add_list(
      form, tr("Practise"),
      {tr("the whole hymn"), tr("the play-over, again and again"), tr("one join, again and again")},
      index(choices_.part));
  join_ = add_number(form, tr("The join after verse"), 1, 200, choices_.join_verse);
  click_ =
      add_list(form, tr("Click"),
               {tr("none"), tr("count me in"), tr("all the time"), tr("some bars on, some off")},
               index(choices_.click));
  ranks_ = add_list(form, tr("Sound"), {tr("my keyboard's own"), tr("the organ's ranks, here")},
                    index(choices_.ranks));
  volume_ = add_number(form, tr("Loudness of the ranks (0: full)"), -60, 0, choices_.volume_db);
  volume_->setSuffix(tr(" dB"));
  singing_ = add_number(form, tr("People who sing along"), 0, 300, choices_.singing);
  reluctance_ = add_number(form, tr("How much they drag"), 0, 8, choices_.reluctance_percent);
  reluctance_->setSuffix(tr(" %"));
  stops_ = add_list(form, tr("Stops are moved by"), {tr("me"), tr("the plan, by itself")},
                    index(choices_.stops));
  shown_ = add_list(form, tr("Ahead or behind now"), {tr("not shown"), tr("shown")},
                    index(choices_.shown));
  input_ = add_list(form, tr("Keyboard"), {tr("every one there is")}, 0);
  QStringList signal_names;
  int signal_at = 0;
  for (const FreeSignal& signal : kSignals) {
    if (choices_.signal == signal.sends) signal_at = static_cast<int>(signal_names.size());
    signal_names.push_back(tr(signal.words));
  }
  signal_ = add_list(form, tr("Begin and end with"), signal_names, signal_at);
  take();
}

QComboBox* ChoicesPanel::add_list(QFormLayout* form, const QString& title,
                                  const QStringList& entries, int index) {
  auto* list = new QComboBox;
  list->addItems(entries);
  list->setCurrentIndex(index);
  list->setMinimumHeight(kTarget);
  list->setAccessibleName(title);
  form->addRow(title, list);
  connect(list, &QComboBox::activated, this, &ChoicesPanel::take);
  return list;
}

QSpinBox* ChoicesPanel::add_number(QFormLayout* form, const QString& title, int least, int most,
                                   int value) {
  auto* number = new QSpinBox;
  number->setRange(least, most);
  number->setValue(value);
  number->setMinimumHeight(kTarget);
  number->setAccessibleName(title);
  form->addRow(title, number);
  connect(number, &QSpinBox::valueChanged, this, &ChoicesPanel::take);
  return number;
}

void ChoicesPanel::set_inputs(const std::vector<std::string>& names) {
  input_->clear();
  input_->addItem(tr("every one there is"), QString());
  for (const std::string& name : names) input_->addItem(words(name), words(name));
  const int at = input_->findData(words(choices_.input));
  if (at < 0 && !choices_.input.empty())
    input_->addItem(tr("%1 (not there now)").arg(words(choices_.input)), words(choices_.input));
  input_->setCurrentIndex(input_->findData(words(choices_.input)));
}

void ChoicesPanel::set_verses(int verses) { join_->setMaximum(std::max(1, verses - 1)); }

void ChoicesPanel::take() {
  choices_.part = chosen_in<PracticeChoices::Part>(part_);
  choices_.join_verse = join_->value();
  choices_.click = chosen_in<PracticeChoices::Click>(click_);
  choices_.ranks = chosen_in<PracticeChoices::Ranks>(ranks_);
  choices_.volume_db = volume_->value();
  choices_.singing = singing_->value();
  choices_.reluctance_percent = reluctance_->value();
  choices_.stops = chosen_in<PracticeChoices::Stops>(stops_);
  choices_.shown = chosen_in<PracticeChoices::Shown>(shown_);
  if (input_->count() > 1 || !input_->currentData().toString().isEmpty())
    choices_.input = input_->currentData().toString().toStdString();
  choices_.signal = kSignals[std::max(0, signal_->currentIndex())].sends;
  join_->setEnabled(choices_.part == PracticeChoices::Part::join);
  volume_->setEnabled(choices_.ranks == PracticeChoices::Ranks::speak);
  reluctance_->setEnabled(choices_.singing > 0);
  write_choices(choices_, desk_.settings());
  emit chosen();
}

}  // namespace loftbeat::window
