#include "window/look_back/moment_pane.h"

#include <utility>

#include <QComboBox>
#include <QHBoxLayout>
#include <QHideEvent>
#include <QLabel>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include "plan/registration.h"
#include "report/words.h"
#include "window/desk/words.h"
#include "window/look_back/review_view.h"
#include "window/look_back/stops_dialog.h"
#include "window/notation/bar_view.h"

namespace loftbeat::window {
namespace {

std::string joined(const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
  return list;
}

QString planned_for(const plan::RoutePass& pass) {
  if (pass.kind == plan::PassKind::verse)
    return MomentPane::tr("As planned for verse %1").arg(words(pass.label));
  return MomentPane::tr("As planned for the %1").arg(words(pass.label));
}

}  // namespace

MomentPane::MomentPane(QWidget* parent)
    : QWidget(parent),
      words_(make_words({})),
      bar_(new BarView),
      stops_(new QComboBox),
      said_(make_words({})) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  QFont large = words_->font();
  large.setBold(true);
  words_->setFont(large);
  words_->setAccessibleName(tr("What happened there"));
  said_->setAccessibleName(tr("What was said"));
  said_->hide();
  column->addWidget(words_);
  column->addWidget(bar_row());
  column->addWidget(hear_row());
  column->addWidget(said_);
  connect(stops_, &QComboBox::activated, this, &MomentPane::stops_chosen);
  show_practice(nullptr, {});
}

QPushButton* MomentPane::add_button(QWidget* row, const QString& text, const QString& name) {
  auto* button = new QPushButton(text);
  button->setMinimumHeight(kTarget);
  button->setAccessibleName(name);
  button->setToolTip(name);
  row->layout()->addWidget(button);
  return button;
}

QWidget* MomentPane::bar_row() {
  auto* row = new QWidget;
  bars_ = row;
  auto* line = new QHBoxLayout(row);
  line->setContentsMargins(0, 0, 0, 0);
  back_ = add_button(row, tr("◀ Bar"), tr("One bar back"));
  line->addWidget(bar_, 1);
  on_ = add_button(row, tr("Bar ▶"), tr("One bar on"));
  connect(back_, &QPushButton::clicked, this, [this] { step(-1); });
  connect(on_, &QPushButton::clicked, this, [this] { step(1); });
  return row;
}

QWidget* MomentPane::hear_row() {
  auto* row = new QWidget;
  auto* line = new QHBoxLayout(row);
  line->setContentsMargins(0, 0, 0, 0);
  hear_ = add_button(row, tr("&Hear from here"), tr("Hear the take from here"));
  hear_->setAccessibleDescription(
      tr("Turn the volume low first, above all with headphones. It begins softly."));
  hear_->setToolTip(hear_->accessibleDescription());
  stop_ = add_button(row, tr("&Silence"), tr("Silence at once"));
  auto* label = new QLabel(tr("S&tops:"));
  label->setBuddy(stops_);
  stops_->setAccessibleName(tr("Stops to hear it with"));
  stops_->setMinimumHeight(kTarget);
  stops_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  stops_->setMinimumContentsLength(16);
  line->addWidget(label);
  line->addWidget(stops_, 1);
  connect(hear_, &QPushButton::clicked, this, [this] {
    say({});
    emit hear_wanted(moment_ ? moment_->hear_from_s : 0);
  });
  connect(stop_, &QPushButton::clicked, this, &MomentPane::stop_wanted);
  return row;
}

void MomentPane::show_practice(ShownPractice practice, const Theme& theme) {
  const bool another = practice != practice_;
  practice_ = std::move(practice);
  bar_->set_inks({theme.ink, theme.behind, theme.ahead});
  if (!another && practice_) return;
  moment_.reset();
  followed_.reset();
  organ_.reset();
  score_ = practice_ ? std::make_shared<const music::Score>(practice_->review.score) : nullptr;
  bar_->show_bars(nullptr, 0);
  words_->setText(practice_ ? tr("Choose a beat, a join or a sentence: its bar is shown here.")
                            : tr("No practice is chosen."));
  if (practice_) {
    if (auto organ = organ::read_organ(practice_->review.plan.organ_path))
      organ_ = std::move(*organ);
    if (organ_) others_ = organ::empty_registration(*organ_);
  }
  fill_stops();
  say({});
  set_sounding(false);
}

// As played; as the plan draws for each pass, where that differs; others.
void MomentPane::fill_stops() {
  choices_ = {{tr("As you played it"), {}, {}}};
  if (practice_ && organ_) {
    for (const plan::RoutePass& pass : practice_->review.route.passes) {
      const plan::RegistrationPlan names = plan::registration_of(practice_->review.plan, pass);
      if (!names.stops || names.stops->empty()) continue;
      HeardStops choice{planned_for(pass), joined(*names.stops),
                        names.couplers ? joined(*names.couplers) : std::string()};
      bool known = false;
      for (const HeardStops& other : choices_)
        known = known || (other.stops == choice.stops && other.couplers == choice.couplers);
      if (!known) choices_.push_back(std::move(choice));
    }
    choices_.push_back({tr("Others…"), {}, {}});
  }
  const QSignalBlocker quiet(stops_);
  stops_->clear();
  for (const HeardStops& choice : choices_) stops_->addItem(choice.name);
  before_others_ = 0;
}

const HeardStops& MomentPane::heard_stops() const {
  return choices_[static_cast<std::size_t>(std::max(0, stops_->currentIndex()))];
}

void MomentPane::stops_chosen(int index) {
  if (organ_ && index == static_cast<int>(choices_.size()) - 1) return choose_others();
  before_others_ = index;
}

void MomentPane::choose_others() {
  const auto drawn = ask_for_stops(*organ_, others_, this);
  if (!drawn || drawn->stops.empty()) {
    stops_->setCurrentIndex(before_others_);
    if (drawn) say(tr("No stop is drawn, so nothing would sound. Draw one or more."));
    return;
  }
  others_ = *drawn;
  std::vector<std::string> stops;
  std::vector<std::string> couplers;
  for (const std::size_t stop : others_.stops)
    stops.push_back(organ::full_name(*organ_, organ_->stops[stop]));
  for (const std::size_t coupler : others_.couplers)
    couplers.push_back(organ_->couplers[coupler].name);
  choices_.back() = {tr("Others…"), joined(stops), joined(couplers)};
  stops_->setToolTip(words(choices_.back().stops));
  before_others_ = static_cast<int>(choices_.size()) - 1;
}

void MomentPane::show_bar(const Moment& moment) {
  if (!practice_) return;
  QString text = moment_words(practice_->review, moment);
  const BarFaults faults = faults_in_bar(practice_->review, moment);
  if (faults.wrong > 0)
    text += QLatin1Char(' ') + tr("Wrong notes in this bar: %1.").arg(faults.wrong);
  if (!faults.missed.empty())
    text += QLatin1Char(' ') + tr("Missed in this bar: %1.").arg(faults.missed.size());
  words_->setText(text);
  bar_->show_bars(score_, moment.bar);
  std::vector<BarView::Mark> marks;
  for (const int note : faults.missed) marks.push_back({note, tr("missed")});
  bar_->set_marks(std::move(marks));
}

void MomentPane::show_moment(const Moment& moment) {
  moment_ = moment;
  followed_.reset();
  show_bar(moment);
  set_sounding(stop_->isEnabled());
}

void MomentPane::follow(double seconds) {
  if (!practice_) return;
  const auto here = moment_at(practice_->review, seconds);
  if (!here || (followed_ && followed_->pass == here->pass && followed_->bar == here->bar)) return;
  followed_ = here;
  show_bar(*here);
}

void MomentPane::set_sounding(bool sounding) {
  if (!sounding && followed_ && moment_) show_bar(*moment_);
  followed_.reset();
  hear_->setEnabled(practice_ != nullptr);
  hear_->setText(moment_ ? tr("&Hear from here") : tr("&Hear it all"));
  stop_->setEnabled(sounding);
  stops_->setEnabled(practice_ != nullptr);
  bars_->setVisible(moment_.has_value());  // else the sentences have the room
}

void MomentPane::say(const QString& sentence) {
  said_->setText(sentence);
  said_->setVisible(!sentence.isEmpty());
}

void MomentPane::step(int bars) {
  if (!practice_ || !moment_) return;
  if (const auto next = bar_beside(practice_->review, *moment_, bars)) emit moment_chosen(*next);
}

void MomentPane::hideEvent(QHideEvent* event) {
  QWidget::hideEvent(event);
  if (!event->spontaneous()) emit stop_wanted();
}

}  // namespace loftbeat::window
